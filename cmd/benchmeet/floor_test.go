package main

import (
	"bufio"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// beginFloor starts one of the bare programs (tools/floors) until the benchmark ends, and
// gives its address. under is a program that starts it, and keeps it to a core.
func beginFloor(b *testing.B, under []string, args ...string) string {
	b.Helper()
	floors := filepath.Join(b.TempDir(), "floors")
	if out, err := exec.Command("go", "build", "-o", floors, "benchmeet/tools/floors").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	line := append(append(append([]string{}, under...), floors), args...)
	cmd := exec.Command(line[0], line[1:]...)
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _, _ = cmd.Process.Kill(), cmd.Wait() })
	address, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		b.Fatal(err)
	}
	return "http://" + strings.TrimSpace(address)
}
