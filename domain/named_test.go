package domain_test

import (
	"go/ast"
	"go/types"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/go/packages"

	"benchmeet/domain/refusal"
)

// identified are arguments of refusals that name a thing of a meet, and the types whose values
// domain/naming can name.
var identified = map[string][]string{
	"heat": {"HeatID"}, "before": {"HeatID"}, "division": {"DivisionID"}, "into": {"DivisionID"},
	"bench": {"BenchID", "int"}, "entry": {"EntryID"}, "run": {"RunID"}, "protest": {"ProtestID"},
}

// TestRefusalsNameByType: a sentence says names because arguments keep the types of ids. An id
// that is made a string on the way would be read by a person.
func TestRefusalsNameByType(t *testing.T) {
	found := 0
	for _, p := range typed(t) {
		if !strings.HasPrefix(p.PkgPath, "benchmeet/domain/") && p.PkgPath != "benchmeet/api/rest" ||
			strings.HasSuffix(p.PkgPath, "/timetable") || strings.HasSuffix(p.PkgPath, "/fairness") {
			continue // a plan or a study is of what its file names
		}
		for _, f := range p.Syntax {
			ast.Inspect(f, func(n ast.Node) bool {
				call, is := n.(*ast.CallExpr)
				if !is || !makesRefusal(call) || len(call.Args) == 0 {
					return true
				}
				code, _ := literal(call.Args[0])
				for i := 1; i+1 < len(call.Args); i += 2 {
					name, _ := literal(call.Args[i])
					kinds := identified[name]
					if kinds == nil || !strings.Contains(refusal.New(refusal.Code(code)).Error(), "{"+name+"}") {
						continue // the sentence does not say it
					}
					found++
					if of := typeName(p.TypesInfo.TypeOf(call.Args[i+1])); !slices.Contains(kinds, of) && !onPlate(p, call.Args[i+1]) {
						t.Errorf("%s: %q gives %s as %s and not as %s", p.Fset.Position(call.Pos()), code, name, of, kinds)
					}
				}
				return true
			})
		}
	}
	if found < 120 {
		t.Errorf("only %d arguments were looked at", found)
	}
}

func typeName(t types.Type) string {
	if named, is := t.(*types.Named); is {
		return named.Obj().Name()
	}
	return t.String()
}

// onPlate says whether a value is what stands on a bench, which is no id.
func onPlate(p *packages.Package, e ast.Expr) bool {
	call, is := e.(*ast.CallExpr)
	if !is {
		return false
	}
	of, is := call.Fun.(*ast.SelectorExpr)
	return is && of.Sel.Name == "Plate" && p.PkgPath == "benchmeet/domain/meet"
}
