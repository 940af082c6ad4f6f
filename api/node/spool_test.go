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

// TestSpoolAfterAPowerCut: a chunk and what is open after it are on disk both, or
// neither; what was refused waits again, and no number is used twice.
func TestSpoolAfterAPowerCut(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(s *Spool) error
		want  []string
		run   string
	}{
		{"before the open run is written", func(s *Spool) error {
			return writeSynced(s.path(2, partFile), []byte("three"))
		}, []string{"one", "two"}, "r2"},
		{"before the chunk has its name", func(s *Spool) error {
			return os.Rename(s.path(1, chunkFile), s.path(1, partFile))
		}, []string{"one", "two"}, "r2"},
		{"with a refused one", func(s *Spool) error { return s.SetAside(1) }, []string{"one", "two"}, "r2"},
		{"when all is sent", func(s *Spool) error {
			for number := range 2 {
				if err := s.Done(number); err != nil {
					return err
				}
			}
			return nil
		}, nil, "r2"},
		{"when the run is closed", func(s *Spool) error { return s.Put([]byte("last"), nil) }, []string{"one", "two", "last"}, ""},
	} {
		folder := t.TempDir()
		s := open(t, folder)
		for i, body := range []string{"one", "two"} {
			if err := s.Put([]byte(body), &openRun{Run: []string{"r1", "r2"}[i]}); err != nil {
				t.Fatal(err)
			}
		}
		if err := c.spoil(s); err != nil {
			t.Fatal(err)
		}
		s = open(t, folder)
		run := ""
		if s.Open() != nil {
			run = s.Open().Run
		}
		if err := s.Put([]byte("next"), nil); err != nil {
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
		if diff := cmp.Diff(append(c.want, "next"), got); diff != "" || run != c.run {
			t.Errorf("%s: open %q (-want +got)\n%s", c.name, run, diff)
		}
		if c.name == "when all is sent" && numbers[0] != 2 {
			t.Errorf("%s: number %d is used again", c.name, numbers[0])
		}
	}
}
