package refusal_test

import (
	"errors"
	"fmt"
	"regexp"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"benchmeet/domain/refusal"
)

func TestSentence(t *testing.T) {
	tests := []struct {
		name string
		r    *refusal.Refusal
		want string
	}{
		{"without arguments", refusal.New("paused"), "The meet is paused: resume it first."},
		{"filled", refusal.New("plan-date", "date", "soon"), "“soon” is not a date: write it as YYYY-MM-DD."},
		{"an argument that looks like a place stays", refusal.New("plan-date", "date", "{date}"), "“{date}” is not a date: write it as YYYY-MM-DD."},
		{"a number", refusal.New("start-number", "number", 0, "most", 9999), "0 is no start number: give one from 1 to 9999."},
		{"a value that was forgotten", refusal.New("plan-date", "date"), "“?” is not a date: write it as YYYY-MM-DD."},
		{"a code without a sentence", refusal.New("never-heard-of"), "never-heard-of"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := test.r.Error(); got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
}

func TestArguments(t *testing.T) {
	got := refusal.New("wrong-car", "bench", "b1", "expected", 7).Args
	want := []refusal.Arg{{Name: "bench", Value: "b1"}, {Name: "expected", Value: "7"}}
	if diff := cmp.Diff(want, got, cmpopts.IgnoreUnexported(refusal.Arg{})); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// TestNamedArguments gives names to ids: the sentence says them, the arguments keep the ids.
func TestNamedArguments(t *testing.T) {
	type id string
	names := func(says string) func(any) (refusal.Name, bool) {
		return func(value any) (refusal.Name, bool) { return refusal.Name{Says: says}, value == id("a-1.1.1") }
	}
	r := refusal.New("ask-early", "number", "a-1.1.1", "heat", id("a-1.1.1"))
	r.Name(names("Juniors, round 1, heat 1"))
	r.Name(names("another name"))
	want := "Start number a-1.1.1 has not raced in Juniors, round 1, heat 1: there is nothing to ask for."
	if got := r.Error(); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := r.Args[1].Value; got != "a-1.1.1" {
		t.Errorf("the argument became %q", got)
	}
}

func TestAs(t *testing.T) {
	r := refusal.New("paused")
	if got, is := refusal.As(fmt.Errorf("calling: %w", r)); !is || got != r {
		t.Errorf("got %v, %v", got, is)
	}
	if got, is := refusal.As(errors.New("paused")); is {
		t.Errorf("any error is taken for %v", got)
	}
}

// TestCatalogue holds what every sentence has in common: it is one, it ends, and
// it says more than that something is wrong.
func TestCatalogue(t *testing.T) {
	code := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	for _, c := range refusal.Codes() {
		if !code.MatchString(string(c)) {
			t.Errorf("%q is no code", c)
		}
		says := refusal.New(c).Error()
		first, _ := utf8.DecodeRuneInString(says)
		given := first == '{' // the sentence, or its beginning, comes with the refusal
		if !unicode.IsUpper(first) && !given && first != '“' || says[len(says)-1] != '.' || len(says) < 20 && !given {
			t.Errorf("%s: %q is no sentence", c, says)
		}
	}
}
