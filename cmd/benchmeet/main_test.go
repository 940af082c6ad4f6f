package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"benchmeet/api/store/postgres/pgtest"
)

// asProgram makes the test binary be the program itself, so that tests can
// start, kill and trace it as its own process without building it again.
const asProgram = "BENCHMEET_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) == "1" {
		if path := os.Getenv(steppedClock); path != "" {
			machineClock = func() time.Time { return time.Now().Add(stepIn(path)) }
		}
		beSometimesEarlier()
		main()
		return
	}
	os.Exit(pgtest.Main(m))
}

// steppedClock names the file that says by how much the clock of the program is stepped.
const steppedClock = "BENCHMEET_TEST_CLOCK"

// stepIn reads such a file; one that is not there is no step.
func stepIn(path string) time.Duration {
	text, err := os.ReadFile(path)
	if err != nil {
		return 0
	}
	by, err := time.ParseDuration(string(text))
	if err != nil {
		panic(err)
	}
	return by
}

// stepClock writes such a file in one go.
func stepClock(t testing.TB, path string, by time.Duration) {
	t.Helper()
	if err := os.WriteFile(path+".new", []byte(by.String()), 0o600); err != nil {
		t.Error(err)
	}
	if err := os.Rename(path+".new", path); err != nil {
		t.Error(err)
	}
}

// program is a command that runs this program in a process of its own.
func program(ctx context.Context, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, os.Args[0], args...)
	cmd.Env = append(os.Environ(), asProgram+"=1")
	return cmd
}

// runHere runs a command line in this process.
func runHere(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(t.Context(), args, strings.NewReader(""), &out, &errs)
	return code, out.String(), errs.String()
}

// databases are the stores that a test of the whole program runs on: the flags
// for each.
func databases(t *testing.T, test func(t *testing.T, database string)) {
	t.Run("sqlite", func(t *testing.T) { test(t, "") })
	t.Run("postgres", func(t *testing.T) { test(t, pgtest.Database(t)) })
}

func TestUnknownCommandIsUsage(t *testing.T) {
	code, _, stderr := runHere(t, "sing")
	if code != exitUsage || !strings.Contains(stderr, "sing") {
		t.Errorf("exit %d, said %q; want %d and the word", code, stderr, exitUsage)
	}
}

func TestEveryCommandHasHelpWithItsFormat(t *testing.T) {
	for _, cmd := range subcommands() {
		code, stdout, stderr := runHere(t, "help", cmd.Name())
		if code != exitDone || len(stdout) < 200 {
			t.Errorf("help %s: exit %d, %d characters, said %q", cmd.Name(), code, len(stdout), stderr)
		}
	}
}
