package rest

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"strings"
	"testing"
)

// TestOrdersAreMadeOfWhatIsWrittenNow: beside another server a page may be a moment old, and
// is to be looked at alone. Whatever an order's content, or its refusal, is read from is read
// as of now; what a method shows of a thing after it, in a function of its own, is a page.
func TestOrdersAreMadeOfWhatIsWrittenNow(t *testing.T) {
	packages, err := parser.ParseDir(token.NewFileSet(), ".", func(f fs.FileInfo) bool { //nolint:staticcheck // one package without build tags
		return !strings.HasSuffix(f.Name(), "_test.go")
	}, 0)
	if err != nil {
		t.Fatal(err)
	}
	old := map[string]bool{"meetView": true, "divisionView": true, "clubState": true, "At": true}
	orders, reading := 0, 0
	for _, file := range packages["rest"].Files {
		for _, d := range file.Decls {
			method, is := d.(*ast.FuncDecl)
			if !is || method.Recv == nil {
				continue
			}
			called := callsOf(method.Body)
			if !called["meetOrder"] && !called["clubOrder"] && method.Name.Name != "raceWith" && method.Name.Name != "seedOrder" {
				continue
			}
			orders++
			if called["meetNow"] || called["clubNow"] {
				reading++
			}
			for name := range called {
				if old[name] {
					t.Errorf("%s makes an order of what %s gives, which may be old: meetNow and clubNow are not", method.Name.Name, name)
				}
			}
		}
	}
	if orders < 50 || reading < 10 {
		t.Errorf("%d methods that give orders, %d that read first: they are looked for under other names", orders, reading)
	}
}

// callsOf are the names of what is called in a body, but for functions in it.
func callsOf(body *ast.BlockStmt) map[string]bool {
	out := map[string]bool{}
	ast.Inspect(body, func(n ast.Node) bool {
		if _, own := n.(*ast.FuncLit); own {
			return false
		}
		if call, is := n.(*ast.CallExpr); is {
			if of, is := call.Fun.(*ast.SelectorExpr); is {
				out[of.Sel.Name] = true
			}
		}
		return true
	})
	return out
}
