// Command benchmeet runs race days for palm-sized battery cars on roller
// benches: the server, the rehearsal, the computations that anybody can check
// from a file, and the care of the data.
//
// This package only wires: each subcommand has a file of its own that turns
// flags and files into calls, and the adapters (storage, HTTP, live feed) meet
// here and nowhere else.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"benchmeet/cmd/benchmeet/sheet"
)

// Exit codes of every subcommand.
const (
	exitDone    = 0 // it was done
	exitRefused = 1 // the input breaks a rule; the message names it
	exitUsage   = 2 // wrong usage or unreadable input; the message names line or field
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// run executes one command line and returns its exit code; tests call it with
// their own streams.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	root := newRootCommand()
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return exitDone
	}
	fmt.Fprintln(stderr, "benchmeet: "+err.Error())
	var no *sheet.Refusal
	if errors.As(err, &no) {
		return exitRefused
	}
	return exitUsage
}

func newRootCommand() *cobra.Command {
	root := &cobra.Command{
		Use:   "benchmeet",
		Short: "Race days for palm-sized battery cars on roller benches",
		Long: `Benchmeet plans a race day, draws and calls the heats, takes every pulse of
every bench in, rules on re-runs, keeps standings right and shows them to the hall.

Start the server with "benchmeet serve". Everything that the server computes can
also be computed from a file; "benchmeet help NAME" shows each format with an example.`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.NoArgs,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.AddCommand(subcommands()...)
	return root
}
