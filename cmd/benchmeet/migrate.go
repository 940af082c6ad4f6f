package main

import (
	"context"
	"errors"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"benchmeet/api/store/postgres"
	"benchmeet/api/store/sqlite"
)

const migrateHelp = `
Brings the tables of a database to the version that this program needs, and shows
the versions; --status only shows them, also beside a running server. The server
does the same by itself at its start. Make a backup before.

Example:
  benchmeet migrate --status
prints
  {"database": "sqlite", "version": 1, "newest": 1, "up_to_date": true}`

// migrateOutput is what "benchmeet migrate" prints.
type migrateOutput struct {
	Database string `json:"database"`
	// Before is the version before it was brought up; left out with --status.
	Before   *uint `json:"before,omitempty"`
	Version  uint  `json:"version"`
	Newest   uint  `json:"newest"` // that this program knows
	UpToDate bool  `json:"up_to_date"`
}

func newMigrateCommand() *cobra.Command {
	var o place
	var status bool
	cmd := &cobra.Command{
		Use:   "migrate",
		Short: "Show the version of the tables and bring it up",
		Long:  strings.TrimSpace(migrateHelp),
		Args:  cobra.NoArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return migrate(cmd, o, status) },
	}
	o.addTo(cmd)
	cmd.Flags().BoolVar(&status, "status", false, "only show")
	return cmd
}

func migrate(cmd *cobra.Command, o place, status bool) error {
	ctx := cmd.Context()
	out, err := o.version(ctx)
	if err != nil {
		return err
	}
	if !status {
		s, err := o.openToWrite(ctx, "It brings the tables up by itself when it is started again")
		if err != nil {
			return err
		}
		if err := s.Close(); err != nil {
			return err
		}
		before := out.Version
		if out, err = o.version(ctx); err != nil {
			return err
		}
		out.Before = &before
	}
	return writeJSON(cmd, out)
}

// version reads the versions and changes nothing.
func (p place) version(ctx context.Context) (out migrateOutput, err error) {
	if isPostgres(p.Database) {
		out.Database = "postgres"
		out.Version, out.Newest, err = postgres.Version(ctx, p.Database)
	} else {
		out.Database = "sqlite"
		out.Version, out.Newest, err = sqlite.Version(ctx, p.file())
	}
	if errors.Is(err, fs.ErrNotExist) {
		return out, p.missing()
	}
	out.UpToDate = out.Version == out.Newest
	return out, err
}
