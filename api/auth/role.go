package auth

import (
	"slices"
	"time"
)

// Role is a kind of caller.
type Role string

// The roles, from the most to the least trusted. "family" is kept for pages of
// families that are still to come: no key may have it.
const (
	Organiser Role = "organiser" // people, keys, the plan, publishing; may do everything
	Official  Role = "official"  // a referee and inspector in one, for small days
	Referee   Role = "referee"   // calls, starts, draws, rules
	Inspector Role = "inspector" // checks in, looks at cars and batteries
	Volunteer Role = "volunteer" // a phone at named benches
	Box       Role = "box"       // the counter box at named benches
	Public    Role = "public"    // everybody else: reads what the hall may see
)

// Roles are those that a token may have.
func Roles() []Role { return []Role{Organiser, Official, Referee, Inspector, Volunteer, Box} }

// earlier are the names that roles had when some tokens were kept, and that orders
// for a token may still use.
var earlier = map[Role]Role{"bench": Volunteer, "node": Box}

// RoleNamed is the role of a name as it is kept or asked for, under its name of
// today.
func RoleNamed(name string) Role {
	if now, renamed := earlier[Role(name)]; renamed {
		return now
	}
	return Role(name)
}

// Once says whether the link of a token of the role signs in one browser and no
// other. A printed code of a bench opens many phones.
func (r Role) Once() bool { return !r.AtBenches() }

// AtBenches says whether a token of the role is for named benches.
func (r Role) AtBenches() bool { return r == Volunteer || r == Box }

// lasts is how long a token of the role is good for where nobody said it, at most
// longest: printed codes end with the day, a box may race a season.
func (r Role) lasts() time.Duration {
	switch r {
	case Organiser:
		return 30 * 24 * time.Hour
	case Box:
		return 365 * 24 * time.Hour
	}
	return 36 * time.Hour
}

// longest is how long a token can be good for.
const longest = 400 * 24 * time.Hour

// Caller is who makes a request.
type Caller struct {
	Role  Role
	Club  string
	Actor string // the id that stands in events
	// Benches are those that a volunteer's or box's token is for.
	Benches []string
	// Meet is the only meet that the caller may act in; empty for all of the club.
	Meet string
	// Key is the id of the token or the session that the caller came with.
	Key string
	// Session says whether Key is a session's: a browser with a cookie.
	Session bool
}

// May says whether the caller has one of the roles.
func (c Caller) May(roles ...Role) bool { return slices.Contains(roles, c.Role) }

// MayUse says whether the caller may act for a bench: those who call and rule for
// all, phones and counter boxes for their own.
func (c Caller) MayUse(bench string) bool {
	return c.May(Organiser, Official, Referee) || c.Role.AtBenches() && slices.Contains(c.Benches, bench)
}
