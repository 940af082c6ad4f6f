package sqlite_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"benchmeet/api/store/sqlite"
)

// secondProcessPath names the variable that makes this test program open a file
// and print why it could not.
const secondProcessPath = "BENCHMEET_TEST_SECOND_PROCESS"

func secondProcess(path string) {
	s, err := sqlite.Open(context.Background(), path)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("opened")
	_ = s.Close()
}

func TestOneProcessAtATime(t *testing.T) {
	path := filepath.Join(t.TempDir(), "meet.db")
	second := func() string {
		t.Helper()
		run := exec.CommandContext(t.Context(), os.Args[0])
		run.Env = append(os.Environ(), secondProcessPath+"="+path)
		out, err := run.Output()
		must(t, err)
		return string(bytes.TrimSpace(out))
	}
	s := opened(t, path)
	if said := second(); pidOf(said) != os.Getpid() {
		t.Errorf("a second process was told %q, want the process number %d", said, os.Getpid())
	}
	if _, err := sqlite.Open(t.Context(), path); err == nil || pidOf(err.Error()) != os.Getpid() {
		t.Errorf("a second opening in this process: %v, want a refusal with the process number", err)
	}
	must(t, s.Close())
	if said := second(); said != "opened" {
		t.Errorf("after closing, a second process was told %q", said)
	}
	opened(t, path)
}
