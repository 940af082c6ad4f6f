package domain_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"benchmeet/domain/refusal"
)

// TestEveryRefusalHasASentence reads the sources of the domain and of the API:
// each code that is refused with has a sentence, and the arguments given there
// fill it.
func TestEveryRefusalHasASentence(t *testing.T) {
	codes := refusal.Codes()
	found := 0
	for _, call := range refusalCalls(t) {
		found++
		code, ok := literal(call.args[0])
		if !ok {
			t.Errorf("%s: the code is not written out", call.at)
			continue
		}
		if !slices.Contains(codes, refusal.Code(code)) {
			t.Errorf("%s: the code %q has no sentence", call.at, code)
			continue
		}
		var pairs []any
		for i := 1; i < len(call.args); i += 2 {
			name, ok := literal(call.args[i])
			if !ok || i+1 == len(call.args) {
				t.Errorf("%s: %q has an argument without a name or a value", call.at, code)
				continue
			}
			pairs = append(pairs, name, "X")
		}
		if says := refusal.New(refusal.Code(code), pairs...).Error(); strings.ContainsAny(says, "{}") {
			t.Errorf("%s: %q keeps an open place: %s", call.at, code, says)
		}
	}
	if found < 200 {
		t.Errorf("only %d refusals were found in the sources", found)
	}
}

type refusalCall struct {
	at   token.Position
	args []ast.Expr
}

// refusalCalls finds the calls of refusal.New, with their arguments. Calls that pass a
// code on are left out.
func refusalCalls(t *testing.T) []refusalCall {
	t.Helper()
	var calls []refusalCall
	fset := token.NewFileSet()
	for _, pattern := range []string{"*/*.go", "../api/*/*.go", "../cmd/*/*.go"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range files {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(fset, path, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if call, is := n.(*ast.CallExpr); is {
					if makesRefusal(call) && len(call.Args) > 0 && call.Ellipsis == token.NoPos {
						calls = append(calls, refusalCall{fset.Position(call.Pos()), call.Args})
					}
				}
				return true
			})
		}
	}
	return calls
}

// makesRefusal says whether a call is one of refusal.New.
func makesRefusal(call *ast.CallExpr) bool {
	f, is := call.Fun.(*ast.SelectorExpr)
	if !is || f.Sel.Name != "New" {
		return false
	}
	pkg, is := f.X.(*ast.Ident)
	return is && pkg.Name == "refusal"
}

func literal(e ast.Expr) (string, bool) {
	lit, is := e.(*ast.BasicLit)
	if !is || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}
