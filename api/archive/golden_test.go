package archive_test

import (
	"errors"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/archive"
)

var update = flag.Bool("update", false, "write the golden archive of this version where it is not there yet")

// TestGoldenArchive opens archives that earlier programs wrote. Archives open for ever:
// never edit or replace one; a new version of the format or of an event gets a file of
// its own. The figures in them are not measured again here, because the method of
// measuring may go on.
func TestGoldenArchive(t *testing.T) {
	const (
		clubHead = "bd724b24d767ec153811385a500d38f63f9dbd7e91bf3f7d8019016b3ccee90f"
		meetHead = "3741185f9e3d2be46565b9fe4d1f051896dbc7270962435a97081a9628c247f1"
	)
	for _, c := range []struct{ file, clubHead, meetHead string }{
		{"spring-1", clubHead, meetHead},
		{"spring-2", clubHead, meetHead}, // the same day in another format
		// Runs and draws say what was decided, from here on.
		{
			"outcomes-2",
			"03d7574adb18d453507a6e930ba1b0eab62b4fb199222b8919c1a9e4baa013f2",
			"3c3c9d890c794624ffd7572f741c3c847e502f641c2a27cea12803ee63a32ad0",
		},
	} {
		t.Run(c.file, func(t *testing.T) { openGolden(t, c.file+".benchmeet", c.clubHead, c.meetHead) })
	}
}

func openGolden(t *testing.T, name, clubHead, meetHead string) {
	path := filepath.Join("testdata", name)
	if _, err := os.Stat(path); *update && errors.Is(err, fs.ErrNotExist) {
		s, _ := newSQLite(t)
		newDay(t, s).play()
		_, file := exported(t, s, everything())
		must(t, os.WriteFile(path, file, 0o644))
	}
	r, err := archive.Open(path)
	must(t, err)
	defer r.Close()
	report := verified(t, r)
	want := []archive.StreamReport{
		{Stream: "harbour/club", Events: 9, Head: clubHead, OK: true},
		{Stream: "harbour/meet/spring", Events: 37, Head: meetHead, OK: true},
	}
	for i := range report.Streams {
		report.Streams[i].State = "" // its form may change
	}
	if diff := cmp.Diff(want, report.Streams); diff != "" {
		t.Errorf("streams (-want +got):\n%s", diff)
	}
	if report.RunsChecked != 11 || report.HandCounts != 1 || report.TextsChecked != 1 {
		t.Errorf("verify says %+v", report)
	}
	target, _ := newSQLite(t)
	_, err = archive.Import(t.Context(), r, target)
	must(t, err)
	wantSame(t, "the imported archive", contentOf(t, r), contentOf(t, target))
}
