package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"benchmeet/api/archive"
	"benchmeet/domain/journal"
)

const verifyHelp = `
Checks a database, also beside a running server, or a file: an export or a backup
of SQLite. Each log's hash chain; that every event can be read and the state
rebuilt; that the trace of every recorded run is there and has the SHA-256 of its
event; that measuring it again with the bench's settings gives the figures of the
event (where the method has the same version; the last digit may differ between
processors); free texts against their salted hashes; that nobody who was erased is
there. It exits 1 if anything is wrong, or if there is nothing to check.

On standard error it says what it saw: how many streams, events and runs. Compare
that with the day: a copy of the one SQLite file of a running server lacks what is
still in the -wal file beside it. Copy with benchmeet backup.

--hash looks for the place of a hash: a published result prints the head of its
log, and a log that was written anew cannot have it.

Example:
  benchmeet verify spring.benchmeet
prints
  {
    "streams": [{"stream": "home/meet/spring", "events": 412, "head": "9f2c...", "state": "77ab...", "ok": true}],
    "runs_checked": 95, "runs_measured": 95, "runs_not_measured": 0, "hand_counts": 1,
    "traces_unrecorded": 0, "chunks_late": 0, "texts_checked": 3,
    "problems": []
  }
"state" is the SHA-256 of the rebuilt state, equal on every machine. A problem is
  {"where": "home/meet/spring", "says": "the hash chain is broken at record 17: ..."}`

const emptyHelp = "a server has not been used yet, or this is a copy of the file of a running server " +
	"without the -wal file beside it; copy with benchmeet backup"

func newVerifyCommand() *cobra.Command {
	var o place
	var hash string
	cmd := &cobra.Command{
		Use:   "verify [FILE]",
		Short: "Check the logs and traces of a database, an export or a backup",
		Long:  strings.TrimSpace(verifyHelp),
		Args:  cobra.MaximumNArgs(1),
		RunE:  func(cmd *cobra.Command, args []string) error { return verify(cmd, o, args, hash) },
	}
	o.addTo(cmd)
	cmd.Flags().StringVar(&hash, "hash", "", "a printed hash whose place is looked for")
	return cmd
}

func verify(cmd *cobra.Command, o place, args []string, hash string) error {
	var find journal.Hash
	if hash != "" {
		var err error
		if find, err = journal.ParseHash(hash); err != nil {
			return fmt.Errorf("--hash: %w", err)
		}
	}
	ctx := cmd.Context()
	from, err := o.openEither(ctx, args)
	if err != nil {
		return err
	}
	defer func() { _ = from.Close() }() // it was only read
	report, err := archive.Verify(ctx, from, find)
	if err != nil {
		return err
	}
	// All problems are written before the first of them becomes the error.
	if err := writeJSON(cmd, report); err != nil {
		return err
	}
	clubs, err := from.Clubs(ctx)
	if err != nil {
		return err
	}
	var events int64
	for _, s := range report.Streams {
		events += s.Events
	}
	fmt.Fprintf(cmd.ErrOrStderr(), "Checked: %d streams with %d events, %d recorded runs, %d traces of no run in a log.\n",
		len(report.Streams), events, report.RunsChecked+report.HandCounts, report.TracesUnrecorded)
	if report.ChunksLate > 0 {
		fmt.Fprintf(cmd.ErrOrStderr(), "%d chunks came for runs that were recorded already; they are kept apart.\n", report.ChunksLate)
	}
	// An empty database is sound, but whoever checks it has named the wrong one.
	if events == 0 && report.OK() {
		return refuse("there is nothing in it to check (%d clubs, no event): %s", len(clubs), emptyHelp)
	}
	if !report.OK() {
		first := report.Problems[0]
		return refuse("%d problems were found; the first: %s: %s", len(report.Problems), first.Where, first.Says)
	}
	return nil
}

// openEither opens the file that is named, or else the database.
func (p place) openEither(ctx context.Context, args []string) (source, error) {
	if len(args) == 1 {
		return openFile(ctx, args[0])
	}
	return p.openToRead(ctx)
}
