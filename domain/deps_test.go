// Package domain_test holds the direction of imports of the whole module, and
// what the pure packages may not use. It tests no behaviour.
package domain_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// pkg is what go list says of a package.
type pkg struct {
	ImportPath string
	Dir        string
	Name       string
	GoFiles    []string
	Imports    []string
	Deps       []string
	Standard   bool
}

// ours says whether the package belongs to the module, and where: "domain/meet".
func (p pkg) ours() (string, bool) { return strings.CutPrefix(p.ImportPath, "benchmeet/") }

// list asks go list for the module's packages and all that they reach.
func list(t *testing.T) map[string]pkg {
	t.Helper()
	cmd := exec.Command("go", "list", "-e", "-deps", "-json=ImportPath,Dir,Name,GoFiles,Imports,Deps,Standard", "./...")
	cmd.Dir = ".."
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	text, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.String())
	}
	all := map[string]pkg{}
	for d := json.NewDecoder(bytes.NewReader(text)); ; {
		var p pkg
		err := d.Decode(&p)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		all[p.ImportPath] = p
	}
	if _, there := all["benchmeet/domain/meet"]; !there {
		t.Fatal("go list does not know domain/meet")
	}
	return all
}

// under says whether a path is one of the trees or in one.
func under(path string, trees ...string) bool {
	return slices.ContainsFunc(trees, func(tree string) bool {
		return path == tree || strings.HasPrefix(path, tree+"/")
	})
}

var pure = []string{"domain", "bracket"}

// TestPureReach: what no path of imports may lead to from the pure packages.
func TestPureReach(t *testing.T) {
	forbidden := []struct{ tree, because string }{
		{"database/sql", "the state is a fold over events, handed in; storage is an adapter"},
		{"github.com/jackc/pgx/v5", "PostgreSQL is an adapter"},
		{"modernc.org/sqlite", "SQLite is an adapter"},
		{"github.com/labstack/echo/v4", "HTTP is an adapter"},
		{"github.com/gorilla/websocket", "the live feed is an adapter"},
		{"net", "the core must run where there is no network, and give the same every time"},
		{"net/http", "HTTP is an adapter"},
		{"crypto/rand", "chance is an input: seeds come with the command"},
		{"benchmeet/api", "imports point inwards: the server knows the domain, not the other way round"},
		{"benchmeet/cmd", "the binary is wiring only, and nothing depends on wiring"},
		{"benchmeet/migrations", "storage is an adapter"},
		{"benchmeet/web", "pages are an adapter"},
	}
	for _, p := range list(t) {
		if path, ours := p.ours(); !ours || !under(path, pure...) {
			continue
		}
		for _, f := range forbidden {
			for _, dep := range p.Deps {
				// Below net are also small packages without a network, such as
				// net/netip; a tree of other modules is meant whole.
				if dep == f.tree || f.tree != "net" && under(dep, f.tree) {
					t.Errorf("%s reaches %s: %s", p.ImportPath, dep, f.because)
				}
			}
		}
	}
}

// TestDirectImports: what packages may not name in their own imports.
func TestDirectImports(t *testing.T) {
	forbidden := []struct {
		from    []string
		tree    string
		because string
	}{
		{pure, "os", "no files, no environment: what the core needs is handed to it"},
		{pure, "log", "the core reports by events and refusals"},
		{pure, "sync", "the core runs in one goroutine; who shares it makes a Clone"},
		{[]string{"bracket"}, "benchmeet/domain", "draws work on plain numbers and know no meet, no person, no bench"},
		{[]string{"domain/day"}, "benchmeet/domain/programme", "facts know no form of competition"},
		{[]string{"domain/day", "domain/programme"}, "benchmeet/domain/inspection", "draws and facts stand below the inspector's table"},
		{[]string{"domain/day", "domain/programme", "domain/inspection"}, "benchmeet/domain/board", "the board reports on all others"},
		{
			[]string{"domain/day", "domain/programme", "domain/inspection", "domain/board"},
			"benchmeet/domain/meet",
			"orders stand on top: whoever reads a day gives none",
		},
		{
			[]string{"domain/day", "domain/programme", "domain/inspection", "domain/board", "domain/meet"},
			"benchmeet/domain/evidence",
			"what was measured is looked at again from outside of the day",
		},
		{
			[]string{"domain/day", "domain/programme", "domain/inspection", "domain/board"},
			"benchmeet/domain/dayplan",
			"a plan is a report over the day, and nothing that has happened depends on it",
		},
		{[]string{"domain/battery"}, "benchmeet/domain/day", "packs are judged by figures, on any day"},
		{
			[]string{"domain/journal", "domain/trace", "domain/refusal", "domain/measure"},
			"benchmeet/domain/day",
			"the forms in which things are kept and measured outlive the rules of a day",
		},
		{
			[]string{"domain/journal", "domain/trace", "domain/refusal", "domain/measure"},
			"benchmeet/domain/meet",
			"the forms in which things are kept and measured outlive the rules of a day",
		},
		{
			[]string{"domain/day", "domain/programme", "domain/inspection", "domain/board", "domain/meet"},
			"benchmeet/domain/club",
			"a meet copies the settings that it runs with; the club leads to meets, not back",
		},
		{
			[]string{"domain/fairness", "domain/battery"},
			"benchmeet/domain/meet",
			"statistics know numbers and names, no race day; a meet asks them",
		},
		{[]string{"domain/fairness"}, "benchmeet/domain/day", "statistics know numbers and names, no race day; a meet asks them"},
		{[]string{"domain/fairness"}, "benchmeet/domain/club", "statistics know numbers and names, no club"},
		{[]string{"domain/meet", "domain/club"}, "benchmeet/domain/simulate", "what is rehearsed must be what is raced"},
		{[]string{"cmd/benchmeet/sheet"}, "benchmeet/api", "a computation from a file needs no server and no database"},
		{[]string{"cmd/benchmeet/sheet"}, "github.com/spf13/cobra", "flags are the commands'; a format is the same without them"},
		{[]string{"cmd/benchmeet/sheet"}, "os", "files are opened by the commands"},
		{[]string{"api/archive", "api/ratings"}, "benchmeet/api/intake", "what is exported, verified and rated takes no chunks in"},
		{[]string{"api/wire"}, "benchmeet/api/view", "nouns are put into the contract's words without a state to look at"},
		{[]string{"domain/trie", "domain/compact"}, "benchmeet/domain", "how things are held knows none of them"},
		{[]string{"api", "domain", "bracket"}, "benchmeet/cmd", "the binary is wiring only, and nothing depends on wiring"},
	}
	for _, p := range list(t) {
		path, ours := p.ours()
		if !ours {
			continue
		}
		for _, f := range forbidden {
			for _, i := range p.Imports {
				if under(path, f.from...) && under(i, f.tree) {
					t.Errorf("%s imports %s: %s", p.ImportPath, i, f.because)
				}
			}
		}
	}
}

// TestAdaptersApart: an adapter may be replaced without touching another. They
// meet in cmd; what they share stands in the packages named here.
func TestAdaptersApart(t *testing.T) {
	shared := map[string]string{
		"api/gen":     "the contract, generated",
		"api/wire":    "the contract and the domain's values, both ways",
		"api/view":    "what the API shows, the same by REST and live",
		"api/read":    "what is shown of meets, kept for rest and live",
		"api/ledger":  "the shell around the deciders",
		"api/ratings": "rates what is published, for whatever publishes",
		"api/hosted":  "keeps clubs of one server apart, for whatever invites them",
		"api/erasure": "finishes erasures, for whatever asks for them",
		"api/intake":  "takes traces in, for whatever brings them",
		"api/store":   "the interface of what is kept",
	}
	also := map[[2]string]string{
		{"api/rest", "api/auth"}:   "a handler has to know who calls",
		{"api/wire", "api/auth"}:   "a session is who calls, and a token begins as a wish",
		{"api/hosted", "api/auth"}: "a club that is invited gets its organiser's sign-in",
		{"api/relay", "api/live"}:  "the relay is the live feed, from one server to the next",
		// The suites of the stores.
		{"api/store/postgres", "api/store/postgres/pgtest"}: "a database for tests",
	}
	for _, p := range list(t) {
		from, ours := p.ours()
		if !ours || !under(from, "api") {
			continue
		}
		for _, i := range p.Imports {
			to, ours := strings.CutPrefix(i, "benchmeet/")
			if !ours || !under(to, "api") {
				continue
			}
			_, known := shared[to]
			_, allowed := also[[2]string{from, to}]
			if !known && !allowed {
				t.Errorf("%s imports %s: adapters do not know one another, they meet in cmd", from, to)
			}
		}
	}
	for _, inner := range []string{"api/store", "api/ledger"} {
		for _, i := range list(t)["benchmeet/"+inner].Imports {
			if under(i, "benchmeet/api/view", "benchmeet/api/wire", "benchmeet/api/gen", "benchmeet/api/intake") {
				t.Errorf("%s imports %s: what is kept does not depend on how it is shown", inner, i)
			}
		}
	}
}

// TestNoClockNoChance reads the sources of the pure packages for calls that
// would give another answer the next time.
func TestNoClockNoChance(t *testing.T) {
	forbidden := map[string]map[string]string{
		"time": words("the instant is an input: Meta.NowUS, or an argument",
			"Now", "Since", "Until", "After", "AfterFunc", "Sleep", "Tick", "NewTimer", "NewTicker", "Local", "LoadLocation"),
		"math/rand":    randGlobals(),
		"math/rand/v2": randGlobals(),
	}
	files := 0
	for _, p := range list(t) {
		if path, ours := p.ours(); !ours || !under(path, pure...) {
			continue
		}
		for _, name := range p.GoFiles {
			files++
			for _, use := range uses(t, filepath.Join(p.Dir, name)) {
				if because, is := forbidden[use.pkg][use.name]; is {
					t.Errorf("%s uses %s.%s: %s", use.at, use.pkg, use.name, because)
				}
			}
		}
	}
	if files < 50 {
		t.Errorf("only %d files were read", files)
	}
}

func words(because string, names ...string) map[string]string {
	m := map[string]string{}
	for _, n := range names {
		m[n] = because
	}
	return m
}

// randGlobals are the functions that draw from the process's own source. A
// source made from a seed is an input and allowed.
func randGlobals() map[string]string {
	return words("chance is an input: draw from a source made from the seed that was handed in",
		"Int", "Intn", "IntN", "Int31", "Int31n", "Int32", "Int32N", "Int63", "Int63n", "Int64", "Int64N", "N", "Uint", "UintN",
		"Uint32", "Uint32N", "Uint64", "Uint64N", "Float32", "Float64", "NormFloat64", "ExpFloat64", "Perm", "Shuffle", "Read", "Seed")
}

// use is a name of an imported package that a file uses.
type use struct {
	at        token.Position
	pkg, name string
}

func uses(t *testing.T, path string) []use {
	t.Helper()
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, path, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	imported := map[string]string{} // name in the file -> path
	for _, i := range file.Imports {
		path, err := strconv.Unquote(i.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		name := path[strings.LastIndex(path, "/")+1:]
		if name == "v2" {
			name = "rand"
		}
		if i.Name != nil {
			name = i.Name.Name
		}
		imported[name] = path
	}
	var out []use
	ast.Inspect(file, func(n ast.Node) bool {
		sel, is := n.(*ast.SelectorExpr)
		if !is {
			return true
		}
		if x, is := sel.X.(*ast.Ident); is && imported[x.Name] != "" {
			out = append(out, use{fset.Position(sel.Pos()), imported[x.Name], sel.Sel.Name})
		}
		return true
	})
	return out
}

// TestPackageComments: every package says what it is for, in one written file.
func TestPackageComments(t *testing.T) {
	for _, p := range list(t) {
		if _, ours := p.ours(); !ours || len(p.GoFiles) == 0 {
			continue
		}
		want := "Package " + p.Name + " "
		if p.Name == "main" {
			want = "Command " + filepath.Base(p.Dir) + " "
		}
		var comments []string
		for _, name := range p.GoFiles {
			file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, name), nil, parser.ParseComments|parser.PackageClauseOnly)
			if err != nil {
				t.Fatal(err)
			}
			if file.Doc != nil && !ast.IsGenerated(file) {
				comments = append(comments, file.Doc.Text())
			}
		}
		if len(comments) != 1 || !strings.HasPrefix(comments[0], want) {
			t.Errorf("%s: want one package comment that begins %q, got %q", p.ImportPath, want, comments)
		}
	}
}
