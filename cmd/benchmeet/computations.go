package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"benchmeet/cmd/benchmeet/sheet"
	"benchmeet/domain/refusal"
	"benchmeet/domain/timetable"
)

// newDrawCommand makes the subcommand that draws from a file.
func newDrawCommand() *cobra.Command {
	return newComputation("draw", "Draw a knockout, groups, a round robin or heats from a file", sheet.DrawHelp, sheet.Draw)
}

// newPairCommand makes the subcommand that pairs from a file.
func newPairCommand() *cobra.Command {
	return newComputation("pair", "Pair the next Swiss round from a file", sheet.PairHelp, sheet.Pair)
}

// newRankCommand makes the subcommand that ranks from a file.
func newRankCommand() *cobra.Command {
	return newComputation("rank", "Rank entries from measured runs or from points", sheet.RankHelp, sheet.Rank)
}

// newBenchesCommand makes the subcommand that compares benches from a file.
func newBenchesCommand() *cobra.Command {
	var plain bool
	cmd := &cobra.Command{
		Use:   "benches FILE",
		Short: "Compare benches by results of the same cars on them",
		Long:  strings.TrimSpace(sheet.BenchesHelp),
		Args:  oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			text, err := readInput(cmd, args[0])
			if err != nil {
				return err
			}
			table, err := sheet.ReadBenches(text)
			if err != nil {
				return fmt.Errorf("%s: %w", args[0], err)
			}
			out, err := sheet.CompareBenches(table, plain)
			if err != nil {
				if no, is := refusal.As(err); is {
					return refuse("%w", no)
				}
				return err
			}
			return writeJSON(cmd, out)
		},
	}
	cmd.Flags().BoolVar(&plain, "plain", false, "take values as they are, one way by bench (ISO 5725-2)")
	return cmd
}

// newMeasureCommand makes the subcommand that measures a run from a file.
func newMeasureCommand() *cobra.Command {
	return newComputation("measure", "Measure a run from the stamps of its bench", sheet.MeasureHelp(), sheet.Measure)
}

// newTimetableCommand makes the subcommand that plans a day from a file.
func newTimetableCommand() *cobra.Command {
	var seconds float64
	var o timetable.Options
	plan := func(in sheet.TimetableInput) (any, error) { return sheet.Timetable(in, o, seconds) }
	cmd := newComputation("timetable", "Plan heats onto benches and times from a file", sheet.TimetableHelp, plan)
	cmd.Flags().Float64Var(&seconds, "seconds", 5, "how long to search at most")
	cmd.Flags().IntVar(&o.Rounds, "rounds", 0, "search this many rounds instead, so that the answer can be had again")
	cmd.Flags().Uint64Var(&o.Seed, "seed", 1, "what the search tries")
	cmd.MarkFlagsMutuallyExclusive("seconds", "rounds")
	cmd.PreRunE = func(cmd *cobra.Command, _ []string) error {
		if cmd.Flags().Changed("rounds") && (o.Rounds < 1 || o.Rounds > 1_000_000_000) {
			return errors.New("--rounds is a whole number from 1 to 1000000000")
		}
		if !(seconds >= 0 && seconds <= 86_400) {
			return errors.New("--seconds is a number from 0 to 86400")
		}
		return nil
	}
	return cmd
}

// newForecastCommand makes the subcommand that says when a day will likely end.
func newForecastCommand() *cobra.Command {
	return newComputation("forecast", "Say when a planned day will likely end, and compare forms of it", sheet.ForecastHelp, sheet.Forecast)
}
