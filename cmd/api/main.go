// Command api is the service: pages and a JSON API that show for every plant when to order fuel, take
// readings in, and advise anew once a day and after each reading.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"

	"overwinter/internal/fault"
)

func main() {
	ctx, release := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	release()
	os.Exit(code)
}

// run is the whole command: it serves until the context ends and gives the exit code. The address goes
// to stdout, the log to stderr.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	var f flags
	exit := -1
	parser, err := kong.New(&f,
		kong.Name("api"),
		kong.Description("Fuel supply of remote diesel plants: pages and a JSON API on this machine."),
		kong.Writers(stdout, stderr),
		kong.Exit(func(code int) { exit = code }),
	)
	if err != nil {
		fmt.Fprintln(stderr, "api:", err)
		return fault.ExitInternal
	}
	_, err = parser.Parse(args)
	if exit >= 0 { // help was asked for
		return exit
	}
	if err != nil {
		return misused(stderr, err)
	}
	config, err := f.config()
	if err != nil {
		return misused(stderr, err)
	}
	switch err := serve(ctx, config, stdout, stderr); {
	case err == nil:
		return fault.ExitDone
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "api: interrupted before it was ready")
		return fault.ExitInternal
	default:
		fmt.Fprintln(stderr, "api:", err)
		return fault.KindOf(err).ExitCode()
	}
}

func misused(stderr io.Writer, err error) int {
	fmt.Fprintf(stderr, "api: %v\napi --help shows the flags and their environment variables.\n", err)
	return fault.ExitUsage
}
