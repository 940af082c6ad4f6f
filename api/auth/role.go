package auth

import "slices"

// Role is a kind of caller.
type Role string

// The roles, from the most to the least trusted.
const (
	Organiser Role = "organiser" // plans the day and may do everything
	Official  Role = "official"  // checks in, calls, starts, rules
	Bench     Role = "bench"     // a volunteer's phone at named benches
	Node      Role = "node"      // the counter box at named benches
	Public    Role = "public"    // everybody else: reads what the hall may see
)

// Roles are those that a token may have.
func Roles() []Role { return []Role{Organiser, Official, Bench, Node} }

// Caller is who makes a request.
type Caller struct {
	Role  Role
	Club  string
	Actor string // the id that stands in events
	// Benches are those that a bench's or node's token is for.
	Benches []string
}

// May says whether the caller has one of the roles.
func (c Caller) May(roles ...Role) bool { return slices.Contains(roles, c.Role) }

// MayUse says whether the caller may act for a bench: officials for all, phones
// and counter boxes for their own.
func (c Caller) MayUse(bench string) bool {
	return c.May(Organiser, Official) || c.May(Bench, Node) && slices.Contains(c.Benches, bench)
}
