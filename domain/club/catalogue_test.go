package club_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"benchmeet/domain/refusal"
)

// TestEveryRefusalHasASentence reads the package's sources: each code that is
// refused with has a sentence, and the arguments given there fill it.
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
	if found < 8 {
		t.Errorf("only %d refusals were found in the sources", found)
	}
}

type refusalCall struct {
	at   token.Position
	args []ast.Expr
}

// refusalCalls finds the calls of refusal.New in the package.
func refusalCalls(t *testing.T) []refusalCall {
	t.Helper()
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var calls []refusalCall
	fset := token.NewFileSet()
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, f.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, is := n.(*ast.CallExpr)
			if !is {
				return true
			}
			if sel, is := call.Fun.(*ast.SelectorExpr); is && sel.Sel.Name == "New" {
				if pkg, is := sel.X.(*ast.Ident); is && pkg.Name == "refusal" {
					calls = append(calls, refusalCall{fset.Position(call.Pos()), call.Args})
				}
			}
			return true
		})
	}
	return calls
}

func literal(e ast.Expr) (string, bool) {
	lit, is := e.(*ast.BasicLit)
	if !is || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}
