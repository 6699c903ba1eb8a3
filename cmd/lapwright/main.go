// Command lapwright turns a survey workbook of walls and openings into a
// workbook that an installer of horizontal lap boards can build from.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() { os.Exit(start()) }

// start runs the command line until it ends or is interrupted.
func start() int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	return run(ctx, os.Args, os.Stdout, os.Stderr)
}
