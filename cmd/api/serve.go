package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"strconv"
	"syscall"
	"time"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/gate"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/jobs"
	"overwinter/internal/store"
)

// stopWithin is how long a stop waits for requests that are being answered, and for a forecast.
const stopWithin = 30 * time.Second

// serve runs the service until the context ends. It listens at once; the first forecast is made behind
// the pages, which say so until then.
func serve(ctx context.Context, c config, stdout, stderr io.Writer) error {
	log := newLog(c, stderr)
	listener, err := listen(ctx, c.listen)
	if err != nil {
		return err
	}
	defer func() { _ = listener.Close() }() // the server has closed it
	l, err := open(ctx, c)
	if err != nil {
		return err
	}
	defer l.done()
	r, err := wire(c, l, portOf(listener), log)
	if err != nil {
		return err
	}
	server := newServer(r.handler(), log)
	served := make(chan error, 1)
	go func() { served <- server.Serve(listener) }()
	r.work.Start()
	fmt.Fprintf(stdout, "Overwinter listens on http://%s/\n", listener.Addr())
	log.Info("started", "address", listener.Addr().String(), "ledger", where(c))
	select {
	case err := <-served:
		return errors.Join(fault.Wrap(fault.Internal, err, "the service cannot listen any more"), stop(server, r.work))
	case <-ctx.Done():
		signal.Reset(os.Interrupt, syscall.SIGTERM) // the next one ends the process at once
		log.Info("stopping", "within_s", stopWithin.Seconds())
		defer log.Info("stopped")
		return stop(server, r.work)
	}
}

// wire makes the rooms and hands each what it needs of the others.
func wire(c config, l ledger, port string, log *slog.Logger) (r rooms, err error) {
	r = rooms{config: c, ledger: l, log: log}
	r.desk = advice.NewDesk(l, c.seed)
	r.adviser = advice.NewAdviser(l, l.options(c), l.clock)
	r.work = jobs.New(r.adviser, l, log)
	r.reports = &intake.Desk{Ledger: l, Refresh: r.work, Advice: r.desk, Clock: l.clock, AsOf: l.asOf}
	r.books = &inventory.Bookkeeper{Ledger: l, Clock: l.clock, AsOf: l.asOf}
	r.door, err = gate.New(port, c.hosts...)
	return r, err
}

func newLog(c config, to io.Writer) *slog.Logger {
	if c.logJSON {
		return slog.New(slog.NewJSONHandler(to, nil))
	}
	return slog.New(slog.NewTextHandler(to, nil))
}

// where names the ledger for the log.
func where(c config) string {
	if c.demo {
		return "demo"
	}
	return store.Redacted(c.db)
}

// listen takes the address.
func listen(ctx context.Context, address string) (net.Listener, error) {
	listener, err := new(net.ListenConfig).Listen(ctx, "tcp", address)
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return nil, fault.New(fault.Unavailable, "%s is in use by another program: stop that, or choose another port with --listen", address)
	case err != nil:
		return nil, fault.Wrap(fault.Unavailable, err, "%s cannot be listened at", address)
	}
	if ip := listener.Addr().(*net.TCPAddr).IP; !ip.IsLoopback() { // a name may lead anywhere
		_ = listener.Close()
		return nil, fault.New(fault.Invalid, "%s leads to %s, which is no address of this machine only: use 127.0.0.1", address, ip)
	}
	return listener, nil
}

func portOf(listener net.Listener) string {
	return strconv.Itoa(listener.Addr().(*net.TCPAddr).Port)
}

// newServer makes the server. A report is answered when its plant has been advised, so an answer may
// take longer than reading the request.
func newServer(handler http.Handler, log *slog.Logger) *http.Server {
	return &http.Server{
		Handler:           handler,
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       time.Minute,
		WriteTimeout:      3 * time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
}

// stop lets the requests that are being answered end, then the forecasts, and takes no new ones.
func stop(server *http.Server, work *jobs.Jobs) error {
	ctx, cancel := context.WithTimeout(context.Background(), stopWithin)
	defer cancel()
	err := server.Shutdown(ctx)
	if err != nil {
		_ = server.Close() // what is left is cut off
		err = fault.Wrap(fault.Unavailable, err, "requests were cut off after %v", stopWithin)
	}
	return errors.Join(err, work.Stop(ctx))
}
