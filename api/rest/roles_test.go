package rest

import (
	"reflect"
	"strings"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/domain/refusal"
)

// Every operation of the contract stands in the table of roles, and nothing
// else does.
func TestRolesAreComplete(t *testing.T) {
	operations := reflect.TypeFor[gen.StrictServerInterface]()
	for i := range operations.NumMethod() {
		name := operations.Method(i).Name
		if len(may[name]) == 0 {
			t.Errorf("nobody may do %s: give it a line in the table", name)
		}
	}
	if len(may) != operations.NumMethod() {
		t.Errorf("the table has %d operations, the contract %d", len(may), operations.NumMethod())
	}
}

// What the contract calls open is open to the public, and nothing else is.
func TestPublicReadsOnlyWhatTheContractOpens(t *testing.T) {
	spec, err := gen.GetSpec()
	if err != nil {
		t.Fatal(err)
	}
	for path, item := range spec.Paths.Map() {
		for method, op := range item.Operations() {
			open := op.Security != nil && len(*op.Security) == 0
			name := strings.ToUpper(op.OperationID[:1]) + op.OperationID[1:]
			if got := (auth.Caller{Role: auth.Public}).May(may[name]...); got != open {
				t.Errorf("%s %s: the public may: %v, the contract says %v", method, path, got, open)
			}
		}
	}
}

func TestStatusesAreOfCodesThatExist(t *testing.T) {
	known := map[refusal.Code]bool{}
	for _, c := range refusal.Codes() {
		known[c] = true
	}
	for code := range statuses {
		if !known[code] {
			t.Errorf("the code %s has a status and no sentence", code)
		}
	}
}
