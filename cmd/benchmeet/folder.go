package main

import (
	"fmt"
	"io"
	"os"
)

// sayIfOpen says in one sentence that others on this computer may change what is in the
// data folder. It is said and not refused: a stick whose file system knows no rights
// gives them to all, and a hall that has nothing else has to go on.
func sayIfOpen(folder string, out io.Writer) error {
	const othersWrite = 0o022
	is, err := os.Stat(folder)
	if err != nil {
		return err
	}
	if is.Mode().Perm()&othersWrite != 0 {
		fmt.Fprintf(out, "\nOthers on this computer can put another database into %s: "+
			"take that right away (chmod go-w), or choose a folder of your own with --data.\n", folder)
	}
	return nil
}
