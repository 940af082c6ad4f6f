package bracket

// strength is how much an entry is due a side.
type strength int8

const (
	noPreference strength = iota
	mild                  // both sides equally often: the other one than last time
	strong                // one side once more than the other
	absolute              // one side twice more, or twice running
)

// preference is the side that an entry is due.
type preference struct {
	side     Side
	strength strength
	balance  int // how much more often left than right
}

// preferred returns the side that a history makes due (FIDE C.04.3, articles on colour preference).
func preferred(sides []Side) preference {
	played := Played(sides)
	p := preference{}
	for _, s := range played {
		p.balance += int(s)
	}
	n := len(played)
	if n == 0 {
		return p
	}
	last := played[n-1]
	twice := n >= 2 && played[n-2] == last
	switch {
	case p.balance > 1:
		p.side, p.strength = Right, absolute
	case p.balance < -1:
		p.side, p.strength = Left, absolute
	case twice:
		p.side, p.strength = -last, absolute
	case p.balance > 0:
		p.side, p.strength = Right, strong
	case p.balance < 0:
		p.side, p.strength = Left, strong
	default:
		p.side, p.strength = -last, mild
	}
	return p
}

// Played returns the sides of the rounds that were played, in order.
func Played(sides []Side) []Side {
	var played []Side
	for _, s := range sides {
		if s != NoSide {
			played = append(played, s)
		}
	}
	return played
}

// breaksSides says whether a round on a side makes the difference between the sides more than two, or is the third
// round running on that side.
func breaksSides(sides []Side, side Side) bool {
	played := Played(sides)
	n := len(played)
	if n >= 2 && played[n-1] == side && played[n-2] == side {
		return true
	}
	return preferred(sides).balance*int(side) > 1
}

// sideOf returns the side of a, who ranks before b, and why: both preferences, else the stronger, of two absolute
// ones the wider balance, else opposite to the last round in which their sides differed, else the preference of the
// one who ranks first, else by pairing number (FIDE C.04.3, articles E.1 to E.5).
func (s *swiss) sideOf(a, b int) (Side, Reason) {
	p, q := preferred(s.entries[a].Sides), preferred(s.entries[b].Sides)
	switch {
	case p.strength == noPreference && q.strength == noPreference:
		return s.byNumber(a), SideByNumber
	case q.strength == noPreference:
		return p.side, SideOfOne
	case p.strength == noPreference:
		return -q.side, SideOfOne
	case p.side != q.side:
		return p.side, SidesWished
	case p.strength > q.strength, p.strength == absolute && q.strength == absolute && width(p) > width(q):
		return p.side, SideStronger
	case q.strength > p.strength, p.strength == absolute && q.strength == absolute && width(q) > width(p):
		return -q.side, SideStronger
	}
	mine, theirs := Played(s.entries[a].Sides), Played(s.entries[b].Sides)
	for i := 1; i <= min(len(mine), len(theirs)); i++ {
		if m := mine[len(mine)-i]; m != theirs[len(theirs)-i] {
			return -m, SideHistory
		}
	}
	return p.side, SideOfFirst
}

func width(p preference) int { return max(p.balance, -p.balance) }

// byNumber gives odd pairing numbers the side that the lot gave to number 1, and even ones the other.
func (s *swiss) byNumber(entry int) Side {
	side := Left
	if NewLot(s.options.LotSeed).Intn(2) == 1 {
		side = Right
	}
	if entry%2 == 1 {
		return -side
	}
	return side
}
