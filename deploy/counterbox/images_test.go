package counterbox_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"benchmeet/deploy/counterbox"
)

// TestImages: what is handed out is what the sources give, to the byte.
func TestImages(t *testing.T) {
	files, err := counterbox.Images.ReadDir("images")
	if err != nil || len(files) != 4 {
		t.Fatalf("%d files are handed out: %v", len(files), err)
	}
	for _, f := range files {
		out, err := counterbox.Images.ReadFile("images/" + f.Name())
		if err != nil {
			t.Fatal(err)
		}
		built, err := os.ReadFile(filepath.Join("build", f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(out, built) {
			t.Errorf("%s is not what is built (make -C deploy/counterbox images, and commit it)", f.Name())
		}
	}
}

// TestLoader: the way to load the image names the port and the file, and says what is
// missing. The loader itself and a board are not here.
func TestLoader(t *testing.T) {
	folder := t.TempDir()
	loader := filepath.Join(folder, "avrdude")
	if err := os.WriteFile(loader, []byte("#!/bin/sh\necho \"$@\"\npwd\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	with := folder + ":/usr/bin:/bin"
	tests := []struct {
		name, path string
		args       []string
		says       string
		fails      bool
	}{
		{"no port", with, nil, "say the port", true},
		{"no loader", "/nowhere", []string{"/dev/ttyUSB0"}, "install the loader first", true},
		{"a port", with, []string{"/dev/ttyUSB0"}, "-P /dev/ttyUSB0 -U flash:w:counterbox.hex:i", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out, err := shell(tt.path, append([]string{"images/load.sh"}, tt.args...)...)
			if (err != nil) != tt.fails || !strings.Contains(out, tt.says) {
				t.Errorf("it says %q (%v), want %q", out, err, tt.says)
			}
		})
	}
}

func shell(path string, args ...string) (string, error) {
	cmd := exec.Command("/bin/sh", args...)
	cmd.Env = []string{"PATH=" + path}
	out, err := cmd.CombinedOutput()
	return string(out), err
}
