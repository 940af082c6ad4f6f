package domain_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"strings"
	"testing"

	"golang.org/x/tools/go/packages"
)

// TestNobodyAsksForAForm: what a form of competition does is asked of the form. Who
// compares a stage's kind, or asks for the type of its form, would have to be changed
// for every further form.
func TestNobodyAsksForAForm(t *testing.T) {
	all := typed(t)
	kind := lookUp(t, all, "benchmeet/domain/day", "StageKind").Type()
	form := lookUp(t, all, "benchmeet/domain/programme", "Form").Type().Underlying().(*types.Interface)
	looked := 0
	for _, p := range all {
		for _, f := range p.Syntax {
			ast.Inspect(f, func(n ast.Node) bool {
				if asks(p.TypesInfo, kind, form, n) {
					t.Errorf("%s asks which form of competition a stage has", p.Fset.Position(n.Pos()))
				}
				looked++
				return true
			})
		}
	}
	if looked < 100_000 {
		t.Errorf("only %d things were looked at", looked)
	}
}

// asks says whether a node compares a stage's kind with something, or asks whether the
// form of a stage is a certain one. What a form can do may be asked.
func asks(info *types.Info, kind types.Type, form *types.Interface, n ast.Node) bool {
	isKind := func(e ast.Expr) bool {
		if call, is := e.(*ast.CallExpr); is && len(call.Args) == 1 && info.Types[call.Fun].IsType() {
			e = call.Args[0] // string(st.Kind())
		}
		of := info.TypeOf(e)
		return of != nil && types.Identical(of, kind)
	}
	switch n := n.(type) {
	case *ast.BinaryExpr:
		return (n.Op == token.EQL || n.Op == token.NEQ) && (isKind(n.X) || isKind(n.Y))
	case *ast.SwitchStmt:
		return n.Tag != nil && isKind(n.Tag)
	case *ast.CallExpr:
		fun, is := info.TypeOf(n.Fun).(*types.Signature)
		if !is || fun.Results().Len() != 1 || !types.Identical(fun.Results().At(0).Type(), types.Typ[types.Bool]) {
			return false
		}
		for _, arg := range n.Args { // day.OneOf, slices.Contains
			if isKind(arg) {
				return true
			}
		}
	case *ast.TypeAssertExpr:
		return n.Type != nil && oneForm(info.TypeOf(n.Type), form)
	case *ast.CaseClause:
		for _, e := range n.List {
			if of, is := info.Types[e]; is && of.IsType() && oneForm(of.Type, form) {
				return true
			}
		}
	}
	return false
}

func oneForm(of types.Type, form *types.Interface) bool {
	return !types.IsInterface(of) && types.Implements(of, form)
}

func lookUp(t *testing.T, all []*packages.Package, path, name string) types.Object {
	t.Helper()
	for _, p := range all {
		if p.PkgPath == path {
			if o := p.Types.Scope().Lookup(name); o != nil {
				return o
			}
		}
	}
	t.Fatalf("%s has no %s", path, name)
	return nil
}

// TestAskingIsSeen: the test above finds what it looks for.
func TestAskingIsSeen(t *testing.T) {
	const head = `package p
type StageKind string
type Form interface { Kind() StageKind }
type knockout struct{}
func (knockout) Kind() StageKind { return "knockout" }
func oneOf(k StageKind, all ...StageKind) bool { return false }
`
	for body, want := range map[string]bool{
		`func f(s Form) bool { return s.Kind() == "knockout" }`:                          true,
		`func f(s Form) bool { return string(s.Kind()) == "knockout" }`:                  true,
		`func f(s Form) bool { return oneOf(s.Kind(), "knockout") }`:                     true,
		`func f(s Form) int { switch s.Kind() { case "knockout": return 1 }; return 0 }`: true,
		`func f(s Form) bool { _, is := s.(knockout); return is }`:                       true,
		`func f(s Form) int { switch s.(type) { case knockout: return 1 }; return 0 }`:   true,
		`func f(s Form) bool { _, is := s.(interface{ legs() int }); return is }`:        false,
		`func f(s Form) string { return "a " + string(s.Kind()) }`:                       false,
		`func f(s Form) StageKind { return s.Kind() }`:                                   false,
	} {
		info, file, pkg := checked(t, head+body)
		kind := pkg.Scope().Lookup("StageKind").Type()
		form := pkg.Scope().Lookup("Form").Type().Underlying().(*types.Interface)
		got := false
		ast.Inspect(file, func(n ast.Node) bool {
			got = got || asks(info, kind, form, n)
			return true
		})
		if got != want {
			t.Errorf("%s: seen is %v", strings.TrimSpace(body), got)
		}
	}
}

func checked(t *testing.T, source string) (*types.Info, *ast.File, *types.Package) {
	t.Helper()
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, "p.go", source, 0)
	if err != nil {
		t.Fatal(err)
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}}
	pkg, err := (&types.Config{}).Check("p", fset, []*ast.File{file}, info)
	if err != nil {
		t.Fatal(err)
	}
	return info, file, pkg
}
