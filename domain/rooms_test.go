package domain_test

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/types"
	"maps"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"golang.org/x/tools/go/packages"
)

// load reads the packages of the module with their types, without tests; once for
// all tests here, because it is by far the longest part of each.
var load = sync.OnceValues(func() ([]*packages.Package, error) {
	return packages.Load(&packages.Config{
		Mode: packages.NeedName | packages.NeedFiles | packages.NeedSyntax | packages.NeedTypes | packages.NeedTypesInfo |
			packages.NeedImports | packages.NeedDeps,
		Dir: "..",
	}, "./domain/...", "./bracket/...", "./api/...")
})

func typed(t *testing.T) []*packages.Package {
	t.Helper()
	all, err := load()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 25 {
		t.Fatalf("only %d packages were read", len(all))
	}
	return all
}

// TestFilesReachFewOthers: where files reach one another in a circle, none of them
// can be read without all the others. A room has few of them in one circle.
func TestFilesReachFewOthers(t *testing.T) {
	// One tracker is one machine, whose parts need each other.
	most := map[string]int{"benchmeet/domain/measure": 16}
	const usual, lines = 12, 400
	for _, p := range typed(t) {
		if strings.HasSuffix(p.PkgPath, "/gen") {
			continue
		}
		circle := largestCircle(fileUses(p))
		if limit := max(usual, most[p.PkgPath]); len(circle) > limit {
			t.Errorf("%s: %d files reach one another, more than %d: %s", p.PkgPath, len(circle), limit, strings.Join(circle, " "))
		}
		for _, f := range p.Syntax {
			if at := p.Fset.Position(f.End()); at.Line > lines {
				t.Errorf("%s has %d lines, more than %d: it holds more than one noun", at.Filename, at.Line, lines)
			}
		}
	}
}

// fileUses says which files of a package use what others declare.
func fileUses(p *packages.Package) map[string][]string {
	uses := map[string][]string{}
	for _, f := range p.Syntax {
		from := filepath.Base(p.Fset.Position(f.Pos()).Filename)
		uses[from] = nil
		ast.Inspect(f, func(n ast.Node) bool {
			id, is := n.(*ast.Ident)
			if !is {
				return true
			}
			o := p.TypesInfo.Uses[id]
			if o == nil || o.Pkg() != p.Types || !o.Pos().IsValid() {
				return true
			}
			to := filepath.Base(p.Fset.Position(o.Pos()).Filename)
			if to != from && !slices.Contains(uses[from], to) {
				uses[from] = append(uses[from], to)
			}
			return true
		})
	}
	return uses
}

// largestCircle is the largest strongly connected component of a graph, by the
// algorithm of R. Tarjan, "Depth-first search and linear graph algorithms" (1972).
func largestCircle(uses map[string][]string) []string {
	index, low := map[string]int{}, map[string]int{}
	var stack, largest []string
	var visit func(v string)
	visit = func(v string) {
		index[v] = len(index) + 1
		low[v] = index[v]
		stack = append(stack, v)
		for _, w := range uses[v] {
			if index[w] == 0 {
				visit(w)
				low[v] = min(low[v], low[w])
			} else if slices.Contains(stack, w) {
				low[v] = min(low[v], index[w])
			}
		}
		if low[v] != index[v] {
			return
		}
		at := slices.Index(stack, v)
		if circle := slices.Clone(stack[at:]); len(circle) > len(largest) {
			largest = circle
		}
		stack = stack[:at]
	}
	for _, v := range slices.Sorted(maps.Keys(uses)) {
		if index[v] == 0 {
			visit(v)
		}
	}
	slices.Sort(largest)
	return largest
}

func TestLargestCircle(t *testing.T) {
	got := largestCircle(map[string][]string{"a": {"b"}, "b": {"c", "d"}, "c": {"a"}, "d": {"e"}, "e": {"d"}, "f": nil})
	if fmt.Sprint(got) != "[a b c]" {
		t.Errorf("the largest circle is %v", got)
	}
}

// TestTypesHaveFewMethods: a type with very many methods of its own is several nouns.
// What it embeds is not its own: the server of the contract embeds a handler for each
// resource.
func TestTypesHaveFewMethods(t *testing.T) {
	const most = 40
	machine := "benchmeet/domain/measure.Tracker" // one machine, taking one stamp after another
	for _, p := range typed(t) {
		if strings.HasSuffix(p.PkgPath, "/gen") {
			continue
		}
		for _, name := range p.Types.Scope().Names() {
			declared, isType := p.Types.Scope().Lookup(name).(*types.TypeName)
			if !isType || declared.IsAlias() {
				continue
			}
			named, is := declared.Type().(*types.Named)
			if is && named.NumMethods() > most && p.PkgPath+"."+name != machine {
				t.Errorf("%s.%s has %d methods, more than %d", p.PkgPath, name, named.NumMethods(), most)
			}
		}
	}
}

// TestRoomsAreSmall: what a package offers can be read on a page or two.
func TestRoomsAreSmall(t *testing.T) {
	most := map[string]int{
		"benchmeet/domain/day":       189, // the facts with their events, of which there will be more, and how they are read and written
		"benchmeet/domain/programme": 94,  // with what lies ahead: a round, a heat, and all of a division; and what a form can do without
	}
	for _, p := range typed(t) {
		if !strings.HasPrefix(p.PkgPath, "benchmeet/domain/") {
			continue
		}
		text, err := exec.Command("go", "doc", "-short", p.PkgPath).Output()
		if err != nil {
			t.Fatal(err)
		}
		if n, limit := bytes.Count(text, []byte("\n")), max(90, most[p.PkgPath]); n > limit {
			t.Errorf("%s offers %d things, more than %d", p.PkgPath, n, limit)
		}
	}
}
