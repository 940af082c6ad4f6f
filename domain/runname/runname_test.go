package runname_test

import (
	"slices"
	"testing"

	"benchmeet/domain/runname"
)

// run is what tells a run from another one.
type run struct{ bench, boot, trace string }

// book keeps runs under names, as a meet and a club do.
type book map[string]run

func (b book) keep(sent string, r run) (string, runname.Found) {
	name, found := runname.For(sent, r.boot, func(name string) runname.Found {
		switch old, there := b[name]; {
		case !there:
			return runname.Free
		case old == r:
			return runname.Same
		}
		return runname.Other
	})
	if found == runname.Free {
		b[name] = r
	}
	return name, found
}

// TestFor: no run is lost for its name, and none is kept twice.
func TestFor(t *testing.T) {
	b := book{}
	for _, c := range []struct {
		what string
		sent string
		run  run
		name string
		is   runname.Found
	}{
		{"the first", "r", run{"b1", "aa", "t1"}, "r", runname.Free},
		{"the first again", "r", run{"b1", "aa", "t1"}, "r", runname.Same},
		{"after a restart of the box", "r", run{"b1", "bb", "t2"}, "r.bb", runname.Free},
		{"that one again", "r", run{"b1", "bb", "t2"}, "r.bb", runname.Same},
		{"with other stamps in the same start", "r", run{"b1", "bb", "t3"}, "r.bb.2", runname.Free},
		{"on another bench of the same box", "r", run{"b2", "bb", "t2"}, "r.bb.3", runname.Free},
		{"the first, once more", "r", run{"b1", "aa", "t1"}, "r", runname.Same},
		{"the last, once more", "r", run{"b2", "bb", "t2"}, "r.bb.3", runname.Same},
		{"a name like that of a later one", "r.cc", run{"b1", "dd", "t4"}, "r.cc", runname.Free},
		{"whose name is taken then", "r", run{"b1", "cc", "t5"}, "r.cc.2", runname.Free},
	} {
		if name, is := b.keep(c.sent, c.run); name != c.name || is != c.is {
			t.Errorf("%s: %q, %v, want %q, %v", c.what, name, is, c.name, c.is)
		}
	}
}

// TestBefore: names of both of the ways in which repeated runs were named.
func TestBefore(t *testing.T) {
	for _, c := range []struct {
		recorded, boot string
		want           []string
	}{
		{"junior-1.1.1-L1-1", "b1b2", []string{"junior-1.1.1-L1-1"}},
		{"junior-1.1.1-L1-1.b1b2", "b1b2", []string{"junior-1.1.1-L1-1.b1b2", "junior-1.1.1-L1-1"}},
		{"r.b1b2.2", "b1b2", []string{"r.b1b2.2", "r"}},
		{"r.b1b2.b4", "b1b2", []string{"r.b1b2.b4", "r"}},
		{"r.b1b2.b4.3", "b1b2", []string{"r.b1b2.b4.3", "r"}},
		{"r.b1b2x", "b1b2", []string{"r.b1b2x"}},
		{".b1b2", "b1b2", []string{".b1b2"}},
		{"r.", "", []string{"r."}},
	} {
		if got := runname.Before(c.recorded, c.boot); !slices.Equal(got, c.want) {
			t.Errorf("%s of %s: %v, want %v", c.recorded, c.boot, got, c.want)
		}
	}
}
