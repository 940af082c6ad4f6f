package domain_test

import (
	"go/ast"
	"go/token"
	"go/types"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/tools/go/packages"
)

// folded are the packages with a fold.
var folded = []string{"benchmeet/domain/day", "benchmeet/domain/club"}

// TestFoldDecidesNothing walks from every apply through the functions that it reaches.
// What an event made of the state was decided before and stands in it, so no apply may
// ask a rule: a rule that changes would change old days. Events of earlier versions said
// less; what is reckoned for them stands in before.go, apart, and frozen.
func TestFoldDecidesNothing(t *testing.T) {
	// What judges, by type or receiver and name.
	judges := map[string]string{
		"State.Rules": "the rules of the meet", "FactorSet.Factors": "the bench factors", "FactorSet.Withdrawn": "the bench factors",
		"State.Value": "what a run is worth", "State.Worth": "what a run is worth", "State.Ranks": "what a run is worth",
		"State.FactorsInForce": "the bench factors", "State.factorsFor": "the bench factors",
		"Division.Stages": "the settings of a stage", "Division.Class": "the settings of a class",
		"Entry.StatusOut": "who takes no further part", "Entry.Racing": "who takes no further part",
	}
	met := 0
	for _, p := range foldedPackages(t) {
		bodies := declared(p)
		reached := map[*types.Func]bool{}
		var left []*types.Func
		for f := range bodies {
			if f.Name() == "apply" {
				left = append(left, f)
			}
		}
		met += len(left)
		for len(left) > 0 {
			f := left[len(left)-1]
			left = left[:len(left)-1]
			if reached[f] {
				continue
			}
			reached[f] = true
			if fileOf(p, bodies[f]) == "before.go" {
				t.Errorf("%s.%s is for events of earlier versions, and the fold of those of today reaches it", p.PkgPath, f.Name())
				continue
			}
			written := assigned(p, bodies[f])
			for id, o := range used(p, bodies[f]) {
				if why, is := judges[owned(p, id, o)]; is && !written[id] {
					t.Errorf("%s: the fold asks %s, %s; decide has to, and the event to say it", p.Fset.Position(id.Pos()), owned(p, id, o), why)
				}
				g, is := o.(*types.Func)
				if !is {
					continue
				}
				if path := pathOf(g); strings.HasPrefix(path, "benchmeet/") && path != p.PkgPath && path != "benchmeet/domain/trie" {
					t.Errorf("%s: the fold reaches %s of %s, which may change", p.Fset.Position(id.Pos()), g.Name(), path)
				}
				if bodies[g] != nil {
					left = append(left, g)
				}
			}
		}
	}
	if met < 65 {
		t.Errorf("only %d events were met", met)
	}
}

// TestOldRulesAreFrozen: what reads events of earlier versions reckons by itself, and
// takes from the rest of the package only where things stand.
func TestOldRulesAreFrozen(t *testing.T) {
	lookUps := map[string]bool{
		"Heat.Lane": true, "State.HeatsOf": true, "State.RoundClosed": true, "slices.Clone": true, "bits.Mul64": true, "bits.Add64": true,
		"bits.Div64": true,
	}
	met := 0
	for _, p := range foldedPackages(t) {
		bodies := declared(p)
		for f, body := range bodies {
			if fileOf(p, body) != "before.go" {
				continue
			}
			if f.Name() == "lift" {
				met++
			}
			for id, o := range used(p, body) {
				g, is := o.(*types.Func)
				if !is || bodies[g] != nil && fileOf(p, bodies[g]) == "before.go" || lookUps[owned(p, id, o)] {
					continue
				}
				t.Errorf("%s: a frozen rule asks %s, which may change: take a copy", p.Fset.Position(id.Pos()), owned(p, id, o))
			}
		}
	}
	if met < 18 {
		t.Errorf("only %d events with earlier versions were met", met)
	}
}

func foldedPackages(t *testing.T) (out []*packages.Package) {
	for _, p := range typed(t) {
		for _, path := range folded {
			if p.PkgPath == path {
				out = append(out, p)
			}
		}
	}
	if len(out) != len(folded) {
		t.Fatalf("%d packages with a fold were read", len(out))
	}
	return out
}

// declared are the functions of a package with their declarations.
func declared(p *packages.Package) map[*types.Func]*ast.FuncDecl {
	out := map[*types.Func]*ast.FuncDecl{}
	for _, file := range p.Syntax {
		for _, d := range file.Decls {
			f, is := d.(*ast.FuncDecl)
			if !is || f.Body == nil {
				continue
			}
			if o, is := p.TypesInfo.Defs[f.Name].(*types.Func); is {
				out[o] = f
			}
		}
	}
	return out
}

func fileOf(p *packages.Package, f *ast.FuncDecl) string {
	return filepath.Base(p.Fset.Position(f.Pos()).Filename)
}

// used are the objects that a function names.
func used(p *packages.Package, f *ast.FuncDecl) map[*ast.Ident]types.Object {
	out := map[*ast.Ident]types.Object{}
	ast.Inspect(f.Body, func(n ast.Node) bool {
		if id, is := n.(*ast.Ident); is {
			if o := p.TypesInfo.Uses[id]; o != nil {
				out[id] = o
			}
		}
		return true
	})
	return out
}

// assigned are the fields that a function only writes.
func assigned(p *packages.Package, f *ast.FuncDecl) map[*ast.Ident]bool {
	out := map[*ast.Ident]bool{}
	ast.Inspect(f.Body, func(n ast.Node) bool {
		a, is := n.(*ast.AssignStmt)
		if !is || a.Tok != token.ASSIGN {
			return true
		}
		for _, left := range a.Lhs {
			if s, is := left.(*ast.SelectorExpr); is {
				out[s.Sel] = true
			}
		}
		return true
	})
	return out
}

// owned names a method by its receiver, a field by the struct that it is picked from,
// and a function by its package.
func owned(p *packages.Package, id *ast.Ident, o types.Object) string {
	var owner types.Type
	switch o := o.(type) {
	case *types.Func:
		if r := o.Signature().Recv(); r != nil {
			owner = r.Type()
		} else {
			return o.Pkg().Name() + "." + o.Name()
		}
	case *types.Var:
		if o.IsField() {
			owner = pickedFrom(p)[id]
		}
	}
	if pointer, is := owner.(*types.Pointer); is {
		owner = pointer.Elem()
	}
	if named, is := owner.(*types.Named); is {
		return named.Obj().Name() + "." + o.Name()
	}
	return o.Name()
}

// pickedFrom says of which type each selected field or method is picked.
func pickedFrom(p *packages.Package) map[*ast.Ident]types.Type {
	out := picked[p]
	if out == nil {
		out = map[*ast.Ident]types.Type{}
		for s, of := range p.TypesInfo.Selections {
			out[s.Sel] = of.Recv()
		}
		picked[p] = out
	}
	return out
}

var picked = map[*packages.Package]map[*ast.Ident]types.Type{}

// pathOf is the package of a function, of which a method that Go made from a generic one
// has none.
func pathOf(f *types.Func) string {
	if f.Pkg() == nil {
		return ""
	}
	return f.Pkg().Path()
}
