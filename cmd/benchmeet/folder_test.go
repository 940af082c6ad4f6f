package main

import (
	"os"
	"strings"
	"testing"
)

// TestAFolderThatOthersCanWriteIsSaid: in one sentence at the start, and a folder that is
// one's own is not.
func TestAFolderThatOthersCanWriteIsSaid(t *testing.T) {
	for mode, wants := range map[os.FileMode]bool{0o700: false, 0o755: false, 0o770: true, 0o702: true, 0o777: true} {
		folder := t.TempDir()
		must(t, os.Chmod(folder, mode))
		var out strings.Builder
		must(t, sayIfOpen(folder, &out))
		if says := strings.Contains(out.String(), "chmod go-w") && strings.Contains(out.String(), folder); says != wants {
			t.Errorf("%v: %q", mode, out.String())
		}
	}
}
