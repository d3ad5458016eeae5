package main

import (
	"context"
	"fmt"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
)

// health answers those who watch the service.
type health struct{ rooms }

const (
	healthPath = "/health"
	readyPath  = "/ready"
)

// patience is how long the ledger may take to answer.
const patience = 3 * time.Second

func (h health) register(e *echo.Echo) {
	read := []string{http.MethodGet, http.MethodHead}
	e.Match(read, healthPath, h.alive)
	e.Match(read, readyPath, h.ready)
}

// alive answers as long as the process does.
func (h health) alive(c echo.Context) error {
	return answer(c, http.StatusOK, nil)
}

// ready answers 200 when the service can do its work, and else why not.
func (h health) ready(c echo.Context) error {
	ctx, cancel := context.WithTimeout(c.Request().Context(), patience)
	defer cancel()
	if reason := h.lacks(ctx); reason != "" {
		return answer(c, http.StatusServiceUnavailable, []string{reason})
	}
	return answer(c, http.StatusOK, nil)
}

// lacks says what the service still lacks, "" for nothing. Advice from before the start will do until the
// first forecast is made.
func (h health) lacks(ctx context.Context) string {
	if h.ledger.Ping(ctx) != nil {
		return "the ledger cannot be reached"
	}
	in, err := h.desk.InForce(ctx)
	if err != nil {
		return "the ledger cannot be read"
	}
	if h.work.CaughtUp() {
		return ""
	}
	rows, err := h.ledger.Directory(ctx)
	switch {
	case err != nil:
		return "the ledger cannot be read"
	case len(rows.Plants) == 0:
		return "the ledger holds no plants: load a data folder"
	case len(in.Plants) < len(rows.Plants):
		return fmt.Sprintf("the first forecast is being made: %d of %d plants have advice", len(in.Plants), len(rows.Plants))
	}
	return ""
}

func answer(c echo.Context, status int, reasons []string) error {
	c.Response().Header().Set(echo.HeaderCacheControl, "no-store")
	return c.JSON(status, struct {
		OK      bool     `json:"ok"`
		Reasons []string `json:"reasons,omitempty"`
	}{status == http.StatusOK, reasons})
}
