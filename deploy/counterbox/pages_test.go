package counterbox_test

import (
	"fmt"
	"maps"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestPages: the figures that the builder's page and README.md give are those that the
// tests here measure.
func TestPages(t *testing.T) {
	want := map[string]int{
		"apartUs": boundUS, "pulseUs": pulseUS, "quickest": quickest,
		"fullOneMark": fullOneMark, "fullFourMarks": fullFourMarks,
	}
	page, err := os.ReadFile("../../web/src/screen/box/measured.ts")
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]int{}
	for _, m := range regexp.MustCompile(`(?m)^  (\w+): ([\d_]+),$`).FindAllStringSubmatch(string(page), -1) {
		if got[m[1]], err = strconv.Atoi(strings.ReplaceAll(m[2], "_", "")); err != nil {
			t.Fatal(err)
		}
	}
	if !maps.Equal(got, want) {
		t.Errorf("the page has %v, the tests hold %v", got, want)
	}
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(string(readme)), " ")
	for _, says := range []string{
		fmt.Sprintf("as far apart as their edges within %d µs", boundUS),
		fmt.Sprintf("each longer than %d µs", pulseUS),
		fmt.Sprintf("four inputs at %d,%03d rpm lose nothing in six minutes and fill the line "+
			"to at most %d %% with one mark, to %d %% with four marks",
			quickest/1000, quickest%1000, fullOneMark, fullFourMarks),
	} {
		if !strings.Contains(text, says) {
			t.Errorf("README.md does not say: %s", says)
		}
	}
}
