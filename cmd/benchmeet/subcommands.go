package main

import "github.com/spf13/cobra"

// subcommands lists every subcommand once; each has a file of its own.
func subcommands() []*cobra.Command {
	return []*cobra.Command{
		newServeCommand(),
		newRehearseCommand(),
		newNodeCommand(),
		newMeasureCommand(),
		newDrawCommand(),
		newPairCommand(),
		newRankCommand(),
		newBenchesCommand(),
		newTimetableCommand(),
		newForecastCommand(),
		newVerifyCommand(),
		newExportCommand(),
		newImportCommand(),
		newBackupCommand(),
		newMigrateCommand(),
		newEraseCommand(),
		newClubCommand(),
	}
}
