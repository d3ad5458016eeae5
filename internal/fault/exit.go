package fault

// The exit codes that the commands share, as the README lists them.
const (
	ExitDone        = 0
	ExitInternal    = 1
	ExitUsage       = 2 // flags, arguments or environment are wrong
	ExitInvalid     = 3
	ExitConflict    = 4
	ExitNotFound    = 5
	ExitUnavailable = 6
)

// ExitCode gives the exit code of a command that fails with an error of a kind.
func (k Kind) ExitCode() int {
	switch k {
	case Invalid:
		return ExitInvalid
	case Conflict:
		return ExitConflict
	case NotFound:
		return ExitNotFound
	case Unavailable:
		return ExitUnavailable
	}
	return ExitInternal
}
