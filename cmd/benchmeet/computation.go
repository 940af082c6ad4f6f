package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"benchmeet/cmd/benchmeet/sheet"
)

// inputLimit bounds what a computation reads, so that a wrong file does not
// fill the memory of a club's laptop.
const inputLimit = 256 << 20

// newComputation makes a subcommand that reads one JSON document from a file
// or from standard input ("-"), computes, and writes JSON to standard output.
// The help shows the format with a complete small example.
func newComputation[In any](name, short, help string, compute func(In) (any, error)) *cobra.Command {
	return &cobra.Command{
		Use:   name + " FILE",
		Short: short,
		Long:  strings.TrimSpace(help),
		Args:  oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			text, err := readInput(cmd, args[0])
			if err != nil {
				return err
			}
			var in In
			if err := sheet.Decode(text, &in); err != nil {
				return fmt.Errorf("%s: %w", args[0], err)
			}
			out, err := compute(in)
			if err != nil {
				return err
			}
			return writeJSON(cmd, out)
		},
	}
}

// oneFile asks for exactly one argument and says how to give it.
func oneFile(cmd *cobra.Command, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("%s needs one file to read, or - for standard input; see: benchmeet help %s", cmd.Name(), cmd.Name())
	}
	return nil
}

// readInput reads a whole file, or standard input for "-".
func readInput(cmd *cobra.Command, path string) ([]byte, error) {
	from := cmd.InOrStdin()
	if path != "-" {
		f, err := os.Open(path)
		if err != nil {
			return nil, fmt.Errorf("cannot read the input: %w", err)
		}
		defer func() { _ = f.Close() }() // it is only read
		from = f
	}
	text, err := io.ReadAll(io.LimitReader(from, inputLimit+1))
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", path, err)
	}
	if len(text) > inputLimit {
		return nil, fmt.Errorf("%s is larger than %d MiB; split it", path, inputLimit>>20)
	}
	return text, nil
}

// writeJSON prints a result the way all subcommands do: indented, one newline.
func writeJSON(cmd *cobra.Command, v any) error {
	e := json.NewEncoder(cmd.OutOrStdout())
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
