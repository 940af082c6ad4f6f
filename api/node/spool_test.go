package node

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestSpoolKeepsOrderOverARestart(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "b1")
	s := open(t, folder)
	for _, body := range []string{"one", "two", "three"} {
		if err := s.Put([]byte(body), nil); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Done(0); err != nil {
		t.Fatal(err)
	}
	// A chunk that was being written when the power went is not there.
	if err := os.WriteFile(filepath.Join(folder, "000000000003"+chunkFile+".part"), []byte("fo"), 0o600); err != nil {
		t.Fatal(err)
	}
	s = open(t, folder)
	if err := s.Put([]byte("four"), nil); err != nil {
		t.Fatal(err)
	}
	if err := s.SetAside(1); err != nil {
		t.Fatal(err)
	}
	numbers, err := s.Waiting()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, n := range numbers {
		body, err := s.Get(n)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, string(body))
	}
	if diff := cmp.Diff([]string{"three", "four"}, got); diff != "" {
		t.Errorf("waiting (-want +got):\n%s", diff)
	}
	aside, err := filepath.Glob(filepath.Join(folder, "*.refused"))
	if err != nil || len(aside) != 1 {
		t.Errorf("set aside: %v %v", aside, err)
	}
}

func open(t *testing.T, folder string) *Spool {
	t.Helper()
	s, err := OpenSpool(folder)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
