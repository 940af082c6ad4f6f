package fairness_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

// TestEverySentenceIsFilled reads the sources of this package and of the batteries: each code that is
// refused or noted with has a sentence, and the arguments given there fill it.
func TestEverySentenceIsFilled(t *testing.T) {
	refused, noted := 0, 0
	for _, call := range sentenceCalls(t) {
		code, names := call.code, call.names
		var says string
		if call.refuses {
			refused++
			if !slices.Contains(refusal.Codes(), refusal.Code(code)) {
				t.Errorf("%s: %q has no sentence", call.at, code)
			}
			var pairs []any
			for _, n := range names {
				pairs = append(pairs, n, "X")
			}
			says = refusal.New(refusal.Code(code), pairs...).Error()
		} else {
			noted++
			n := fairness.Note{Code: fairness.NoteCode(code)}
			for _, name := range names {
				n.Args = append(n.Args, fairness.NoteArg{Name: name, Value: "X"})
			}
			says = n.Says()
		}
		if says == code || strings.ContainsAny(says, "{}") || !strings.HasSuffix(says, ".") {
			t.Errorf("%s: %q says %q", call.at, code, says)
		}
	}
	if refused < 40 || noted < 20 {
		t.Errorf("only %d refusals and %d notes were found in the sources", refused, noted)
	}
}

type sentenceCall struct {
	at      token.Position
	refuses bool
	code    string
	names   []string
}

// sentenceCalls finds the calls of refusal.New and note whose code is written out.
func sentenceCalls(t *testing.T) []sentenceCall {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	batteries, err := filepath.Glob("../battery/*.go")
	if err != nil {
		t.Fatal(err)
	}
	var calls []sentenceCall
	fset := token.NewFileSet()
	for _, f := range append(files, batteries...) {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, f, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, is := n.(*ast.CallExpr)
			if !is || len(call.Args) == 0 {
				return true
			}
			c := sentenceCall{at: fset.Position(call.Pos())}
			switch fun := call.Fun.(type) {
			case *ast.SelectorExpr:
				x, is := fun.X.(*ast.Ident)
				c.refuses = is && x.Name == "refusal" && fun.Sel.Name == "New"
				if !c.refuses {
					return true
				}
			case *ast.Ident:
				if fun.Name != "note" {
					return true
				}
			default:
				return true
			}
			var written bool
			if c.code, written = text(call.Args[0]); !written {
				return true // chosen among codes that tests read one by one
			}
			for i := 1; i < len(call.Args); i += 2 {
				name, written := text(call.Args[i])
				if !written {
					t.Errorf("%s: argument %d has no name", c.at, i)
				}
				c.names = append(c.names, name)
			}
			calls = append(calls, c)
			return true
		})
	}
	return calls
}

func text(e ast.Expr) (string, bool) {
	lit, is := e.(*ast.BasicLit)
	if !is || lit.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(lit.Value)
	return s, err == nil
}
