package store

import "iter"

// ahead gives the same items, but makes the next ones while the last is at work: two at most beyond it. A panic
// in the making comes out here.
func ahead[T any](items iter.Seq[T]) iter.Seq[T] {
	return func(yield func(T) bool) {
		made, stop := make(chan T, 1), make(chan struct{})
		var panicked any
		go func() {
			defer close(made)
			defer func() { panicked = recover() }()
			for item := range items {
				select {
				case made <- item:
				case <-stop:
					return
				}
			}
		}()
		defer func() {
			close(stop)
			for range made { // until the maker has ended
			}
			if panicked != nil {
				panic(panicked)
			}
		}()
		for item := range made {
			if !yield(item) {
				return
			}
		}
	}
}
