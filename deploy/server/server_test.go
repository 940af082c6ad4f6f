package server_test

import (
	"bytes"
	"debug/elf"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// root is the repository's.
const root = "../.."

// need finds a program that a test cannot do without.
func need(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("BENCHMEET_TEST_ALL") == "1" {
		t.Fatalf("%s is missing: make setup installs it", name)
	}
	t.Skipf("%s is not installed; make test installs it", name)
	return ""
}

// does runs a program and returns what it said.
func does(t *testing.T, env []string, name string, args ...string) string {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), name, args...)
	cmd.Dir, cmd.Env = root, append(os.Environ(), env...)
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out.String())
	}
	return out.String()
}

// packaged builds the packages once, as make package does.
func packaged(t *testing.T) (amd64, arm64 string) {
	t.Helper()
	need(t, "make")
	does(t, nil, "make", "package", "VERSION=0.0.0-test")
	return filepath.Join("bin", "benchmeet_0.0.0-test_amd64.deb"), filepath.Join("bin", "benchmeet_0.0.0-test_arm64.deb")
}

// TestThePackage is unpacked and installed into a folder, as Debian's own tools do it; its
// units are sound, and its program runs.
func TestThePackage(t *testing.T) {
	need(t, "dpkg-deb")
	dpkg := need(t, "dpkg")
	amd64, arm64 := packaged(t)
	for _, tt := range []struct {
		deb, arch string
		machine   elf.Machine
	}{{amd64, "amd64", elf.EM_X86_64}, {arm64, "arm64", elf.EM_AARCH64}} {
		if got := strings.TrimSpace(does(t, nil, "dpkg-deb", "--field", tt.deb, "Architecture")); got != tt.arch {
			t.Errorf("%s is for %s", tt.deb, got)
		}
		into := t.TempDir()
		does(t, nil, "dpkg-deb", "--extract", tt.deb, into)
		program, err := elf.Open(filepath.Join(into, "usr/bin/benchmeet"))
		if err != nil {
			t.Fatal(err)
		}
		libraries, err := program.ImportedLibraries()
		if program.Machine != tt.machine || err != nil || len(libraries) > 0 {
			t.Errorf("%s holds a program for %v that needs %v %v", tt.deb, program.Machine, libraries, err)
		}
		_ = program.Close()
	}
	into := t.TempDir()
	for _, folder := range []string{"var/lib/dpkg/info", "var/lib/dpkg/updates", "var/lib/dpkg/triggers"} {
		if err := os.MkdirAll(filepath.Join(into, folder), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for _, file := range []string{"var/lib/dpkg/status", "var/lib/dpkg/available"} {
		if err := os.WriteFile(filepath.Join(into, file), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	inRoot := []string{"--root=" + into, "--force-not-root", "--force-script-chrootless", "--log=" + filepath.Join(into, "log")}
	said := does(t, nil, dpkg, append(inRoot, "--install", amd64)...)
	if !strings.Contains(said, "systemctl enable --now benchmeet") {
		t.Errorf("installing says %s", said)
	}
	for path, mode := range map[string]os.FileMode{
		"usr/bin/benchmeet": 0o755, "etc/default/benchmeet": 0o600, "etc/benchmeet": 0o700 | os.ModeDir,
		"usr/lib/benchmeet/backup": 0o755, "usr/lib/benchmeet/restore-drill": 0o755, "usr/share/doc/benchmeet/copyright": 0o644,
	} {
		is, err := os.Stat(filepath.Join(into, path))
		if err != nil || is.Mode() != mode {
			t.Errorf("%s: %v %v", path, is, err)
		}
	}
	if said := does(t, nil, filepath.Join(into, "usr/bin/benchmeet"), "help", "serve"); !strings.Contains(said, "--database") {
		t.Errorf("the program says %s", said)
	}
	settings := filepath.Join(into, "etc/default/benchmeet")
	if err := os.WriteFile(settings, []byte("BENCHMEET_CLUB=Quay\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	does(t, nil, dpkg, append(inRoot, "--install", amd64)...) // an update
	if kept, err := os.ReadFile(settings); err != nil || string(kept) != "BENCHMEET_CLUB=Quay\n" {
		t.Errorf("an update left the settings as %q, %v", kept, err)
	}
	does(t, nil, dpkg, append(inRoot, "--remove", "benchmeet")...)
	if _, err := os.Stat(filepath.Join(into, "usr/bin/benchmeet")); err == nil {
		t.Error("the program is there after it was removed")
	}
}

// TestTheUnits are read by systemd without a word of complaint.
func TestTheUnits(t *testing.T) {
	analyze := need(t, "systemd-analyze")
	into := t.TempDir()
	for _, unit := range []string{"benchmeet.service", "benchmeet-node@.service", "benchmeet-backup.service", "benchmeet-backup.timer"} {
		text, err := os.ReadFile(unit)
		if err != nil {
			t.Fatal(err)
		}
		// Where the program is not installed, another one stands for it.
		for _, program := range []string{"/usr/bin/benchmeet", "/usr/lib/benchmeet/backup"} {
			text = bytes.ReplaceAll(text, []byte("ExecStart="+program), []byte("ExecStart=/bin/true"))
		}
		if err := os.WriteFile(filepath.Join(into, unit), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	check := func(unit string) (string, error) {
		cmd := exec.CommandContext(t.Context(), analyze, "verify", "--man=no", filepath.Join(into, unit))
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
	for _, unit := range []string{"benchmeet.service", "benchmeet-node@b1.service", "benchmeet-backup.service", "benchmeet-backup.timer"} {
		name := strings.Replace(unit, "@b1", "@", 1)
		if out, err := check(name); err != nil || strings.Contains(out, into) {
			t.Errorf("%s: %v\n%s", unit, err, out)
		}
	}
	wrong := []byte("[Service]\nExecStart=/bin/true\nProtectHoem=yes\n")
	if err := os.WriteFile(filepath.Join(into, "wrong.service"), wrong, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := check("wrong.service"); err == nil && !strings.Contains(out, "ProtectHoem") {
		t.Error("a unit with a mistake is no mistake here: this test proves nothing")
	}
}

// TestTheArm64Program starts a server, emulated, and ends it.
func TestTheArm64Program(t *testing.T) {
	qemu := need(t, "qemu-aarch64-static")
	need(t, "make")
	does(t, nil, "make", "binaries")
	program, err := filepath.Abs(filepath.Join(root, "bin/linux-arm64/benchmeet"))
	if err != nil {
		t.Fatal(err)
	}
	if said := does(t, nil, qemu, program, "help", "node"); !strings.Contains(said, "--serial") {
		t.Errorf("help node says %s", said)
	}
	cmd := exec.CommandContext(t.Context(), qemu, program, "serve", "--listen", "127.0.0.1:0", "--data", t.TempDir())
	said := &heard{}
	cmd.Stdout, cmd.Stderr = said, said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = cmd.Process.Kill(); _ = cmd.Wait() }()
	for end := time.Now().Add(time.Minute); !strings.Contains(said.String(), "#token="); time.Sleep(100 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("it does not start: %s", said.String())
		}
	}
}
