package main

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptrace"
	"strings"
	"testing"
	"time"

	"overwinter/internal/fault"
)

// stock is what the API says stands in a plant's tanks.
type stock struct {
	Plant  string
	Newest *time.Time `json:"newest_reading_at"`
	Usable *float64   `json:"usable_l15"`
}

// stock finds the plant's stock in the list of plants.
func (s *service) stock() stock {
	s.t.Helper()
	var list struct{ Plants []stock }
	s.decode("/api/v1/plants", &list)
	for _, p := range list.Plants {
		if p.Plant == plant {
			return p
		}
	}
	s.t.Fatalf("there is no plant %s", plant)
	return stock{}
}

// gauge reports a round in which all tanks of the plant were found at one depth.
func (s *service) gauge(key string, at time.Time, depthMM float64) string {
	s.t.Helper()
	status, answer := send(s.t, s.report("/api/v1/plants/"+plant+"/rounds", key, strings.NewReader(s.round(at, depthMM))))
	if status != http.StatusCreated && status != http.StatusOK {
		s.t.Fatalf("the round was refused: %d %s", status, answer)
	}
	return answer
}

func (s *service) round(at time.Time, depthMM float64) string {
	s.t.Helper()
	var described struct{ Tanks []struct{ Tank string } }
	s.decode("/api/v1/plants/"+plant, &described)
	type tank struct {
		Tank  string  `json:"tank"`
		Depth float64 `json:"depth_mm"`
	}
	round := struct {
		At    time.Time `json:"at"`
		Tanks []tank    `json:"tanks"`
	}{At: at}
	for _, t := range described.Tanks {
		round.Tanks = append(round.Tanks, tank{t.Tank, depthMM})
	}
	body, err := json.Marshal(round)
	if err != nil {
		s.t.Fatal(err)
	}
	return string(body)
}

func TestAReportChangesTheAdvice(t *testing.T) {
	s := start(t, "--db", newLedger(t))
	s.advised()
	before := s.stock()
	if before.Usable != nil {
		t.Errorf("readings long out of date give a stock: %+v", before)
	}
	s.gauge("round-1", time.Now().Truncate(time.Second), 900)
	if after := s.stock(); after.Usable == nil || *after.Usable <= 0 {
		t.Errorf("a gauging of all tanks gives no stock: %+v", after)
	}
}

// The request has been begun when the service is told to stop, and is sent to its end afterwards.
func TestAStopLetsARequestEnd(t *testing.T) {
	s := start(t, "--db", newLedger(t))
	s.advised()
	round := s.round(time.Now().Truncate(time.Second), 900)
	body, pen := io.Pipe()
	r := s.report("/api/v1/plants/"+plant+"/rounds", "round-1", body)
	r.ContentLength = int64(len(round))
	r.Header.Set("Expect", "100-continue") // the service answers it when it begins to read
	begun := make(chan struct{})
	r = r.WithContext(httptrace.WithClientTrace(r.Context(), &httptrace.ClientTrace{Got100Continue: func() { close(begun) }}))
	answers := make(chan string, 1)
	client := &http.Client{Transport: &http.Transport{ExpectContinueTimeout: time.Minute}}
	go func() {
		answer, err := client.Do(r)
		if err != nil {
			answers <- err.Error()
			return
		}
		text, _ := io.ReadAll(answer.Body)
		answers <- fmt.Sprint(answer.StatusCode, " ", string(text))
	}()
	<-begun
	s.stop()
	s.log.wait(t, `"msg":"stopping"`)
	if _, err := io.WriteString(pen, round); err != nil {
		t.Fatal(err)
	}
	_ = pen.Close()
	if answer := <-answers; !strings.HasPrefix(answer, "201 ") || !strings.Contains(answer, `"advised":true`) {
		t.Errorf("the request that was begun: %s", answer)
	}
	if code := <-s.code; code != fault.ExitDone {
		t.Errorf("exit %d", code)
	}
	if _, err := http.Get(s.url + "/health"); err == nil {
		t.Error("it still answers")
	}
	if whole := s.log.String(); strings.Contains(whole, `"ERROR"`) || !strings.Contains(whole, `"msg":"stopped"`) {
		t.Errorf("the log:\n%s", whole)
	}
}
