package rehearsal

import (
	"cmp"
	"errors"
	"fmt"
	"time"

	"benchmeet/api/gen"
	"benchmeet/domain/simulate"
)

// Plan is a made-up meet. It can be read from a file, or made from a seed.
type Plan struct {
	Seed      uint64     `json:"seed"`
	Meet      string     `json:"meet"` // its id
	Name      string     `json:"name"`
	Place     string     `json:"place"`
	Date      string     `json:"date"` // YYYY-MM-DD
	ProtestS  float64    `json:"protest_s"`
	CallS     float64    `json:"call_s"`
	Benches   []Bench    `json:"benches"`
	Divisions []Division `json:"divisions"`
	Entries   []Entry    `json:"entries"`
	// Trouble switches the faults of benches and people on.
	Trouble bool `json:"trouble"`
	// Checks has batteries and cars checked at the inspector's table.
	Checks bool `json:"checks,omitempty"`
	// Compare has the benches compared in the morning and their factors adopted.
	Compare bool `json:"compare,omitempty"`
	// Opens and Closes are the hours of the hall, "15:04" in the time zone; empty where the plan
	// does not say. PackingMin and PrizesMin are minutes before it closes.
	Opens      string `json:"opens,omitempty"`
	Closes     string `json:"closes,omitempty"`
	TimeZone   string `json:"time_zone,omitempty"` // of the server, where it is empty
	PackingMin int    `json:"packing_min,omitempty"`
	PrizesMin  int    `json:"prizes_min,omitempty"`
	// LateMin is by how many minutes the first heat is called later than it was told.
	LateMin int `json:"late_min,omitempty"`
}

// Lot is the seed that an order draws its lots by: the same plan, played again, has the same
// draws. It has 53 bits, so that it is exact in JSON.
func (p Plan) Lot(order string) uint64 { return simulate.Key(p.Seed, "lot", order) >> 11 }

// Bench is a simulated bench.
type Bench struct {
	ID     string `json:"id"`
	Number int    `json:"number"`
	// CircumferenceMM is what the organiser measured; Reads is by how much the
	// roller really differs from it, as a factor.
	CircumferenceMM float64 `json:"circumference_mm"`
	Reads           float64 `json:"reads"`
}

// Division is a division of the plan.
type Division struct {
	ID      string  `json:"id"`
	Name    string  `json:"name"`
	AgeFrom int     `json:"age_from"`
	AgeTo   int     `json:"age_to"`
	Rounds  int     `json:"rounds"`
	Rule    string  `json:"rule"`
	RaceS   float64 `json:"race_s"`
	Lanes   int     `json:"lanes"`
	// Knockout is how many go on to the knockout; 0 is none.
	Knockout int `json:"knockout"`
	// Stages, where given, are the programme as the API takes it, in place of the
	// timed rounds and the knockout.
	Stages []gen.StageBody `json:"stages,omitempty"`
}

// Entry is a made-up child with a car.
type Entry struct {
	Number   int     `json:"number"`
	Division string  `json:"division"`
	Name     string  `json:"name"`
	Nickname string  `json:"nickname"`
	Birth    string  `json:"birth"`
	Car      string  `json:"car"`
	RPM      float64 `json:"rpm"` // of the roller, steady
	// Absent children never come; Leaves is the round before which a family goes
	// home, 0 for none.
	Absent bool `json:"absent,omitempty"`
	Leaves int  `json:"leaves,omitempty"`
}

// Nicknames of invented children; with more entries they come again with a
// number.
var nicknames = []string{
	"Comet", "Biscuit", "Turbot", "Pebble", "Rocket", "Marmalade", "Lantern", "Thimble", "Beacon", "Cricket",
	"Anchor", "Puffin", "Button", "Gale", "Nutmeg", "Otter", "Sprocket", "Tide", "Walnut", "Zigzag",
	"Kelp", "Magpie", "Noodle", "Quill", "Ripple", "Saffron", "Teasel", "Umber", "Velvet", "Whelk",
	"Acorn", "Bramble", "Cobble", "Dapple", "Ember", "Fennel", "Gherkin", "Hazel", "Ivy", "Juniper",
}

var firstNames = []string{"Ada", "Ben", "Cleo", "Dov", "Esme", "Finn", "Gita", "Hal", "Ines", "Jun", "Kit", "Lena"}

var lastNames = []string{"Harbour", "Quay", "Mole", "Jetty", "Breakwater", "Slipway", "Mooring", "Capstan"}

// madeFor is the year of the made-up meet.
const madeFor = 2027

// MakePlan makes the Harbour Hall spring meet with so many entries and benches.
// The same seed gives the same plan.
func MakePlan(seed uint64, entries, benches int) Plan {
	rng := simulate.Source(simulate.Key(seed, "plan"))
	p := Plan{
		Seed: seed, Meet: "harbour-hall-spring", Name: "Harbour Hall spring meet", Place: "Harbour Hall",
		Date: "2027-04-17", ProtestS: 300, CallS: 180, Trouble: true, Checks: true, Compare: true,
	}
	// Everything random is drawn in a fixed order, which is what makes a seed a plan.
	for i := range benches {
		p.Benches = append(p.Benches, Bench{
			ID: fmt.Sprintf("b%d", i+1), Number: i + 1, CircumferenceMM: 94.25,
			Reads: 1 + 0.004*rng.NormFloat64(),
		})
	}
	names := []Division{{ID: "junior", Name: "Juniors 6 to 10", AgeFrom: 6, AgeTo: 10}}
	if entries >= 16 {
		names = append(names, Division{ID: "senior", Name: "Seniors 11 to 16", AgeFrom: 11, AgeTo: 16})
	}
	for i, d := range names {
		// Entries go to the divisions in turn, so the first has one more of an odd number.
		field := (entries + len(names) - 1 - i) / len(names)
		d.Rounds, d.Rule, d.RaceS, d.Lanes = 2, "best", 60, min(4, benches)
		d.Knockout = knockoutOf(field, benches)
		p.Divisions = append(p.Divisions, d)
	}
	for i := range entries {
		d := p.Divisions[i%len(p.Divisions)]
		// Born in May or later: on the day of the meet, in April, the birthday is still to come.
		age := d.AgeFrom + rng.IntN(d.AgeTo-d.AgeFrom+1)
		e := Entry{
			Number: i + 1, Division: d.ID, Nickname: nickname(i),
			Name:  firstNames[rng.IntN(len(firstNames))] + " " + lastNames[rng.IntN(len(lastNames))],
			Birth: fmt.Sprintf("%d-%02d-%02d", madeFor-age-1, 5+rng.IntN(7), 1+rng.IntN(28)),
			Car:   fmt.Sprintf("car-%d", i+1), RPM: 7200 * (1 + 0.06*rng.NormFloat64()),
		}
		p.Entries = append(p.Entries, e)
	}
	p.people()
	return p
}

// people gives the plan its siblings, absentees and those who leave early.
func (p *Plan) people() {
	n, step := len(p.Entries), len(p.Divisions)
	if n >= 12 {
		p.Entries[2*step].Car = p.Entries[step].Car // siblings with one car
		p.Entries[n-1].Absent = true
		p.Entries[n-2].Leaves = 2
	}
}

// bornFor is a birthday that makes somebody as old on the day of the plan as a birthday in
// May or later of a year would on a day in April 2027.
func bornFor(day time.Time, birth string) string {
	var year, month, date int
	if _, err := fmt.Sscanf(birth, "%d-%d-%d", &year, &month, &date); err != nil {
		return birth
	}
	born := day.Year() - (madeFor - 1 - year)
	if month > int(day.Month()) || month == int(day.Month()) && date > day.Day() {
		born-- // the birthday is still to come
	}
	return fmt.Sprintf("%d-%02d-%02d", born, month, date)
}

func nickname(i int) string {
	if i < len(nicknames) {
		return nicknames[i]
	}
	return fmt.Sprintf("%s %d", nicknames[i%len(nicknames)], i/len(nicknames)+1)
}

// knockoutOf is the largest power of two of at most two thirds of the field.
func knockoutOf(field, benches int) int {
	if benches < 2 || field < 4 {
		return 0
	}
	k := 2
	for 2*k <= field*2/3 && k < 16 {
		k *= 2
	}
	return k
}

// Check refuses a plan that cannot be played.
func (p Plan) Check() error {
	switch {
	case p.Meet == "" || p.Name == "" || p.Date == "":
		return errors.New("the plan needs meet, name and date")
	case len(p.Benches) == 0 || len(p.Divisions) == 0 || len(p.Entries) == 0:
		return errors.New("the plan needs benches, divisions and entries")
	}
	known := map[string]bool{}
	for _, d := range p.Divisions {
		known[d.ID] = true
	}
	for _, e := range p.Entries {
		if !known[e.Division] {
			return fmt.Errorf("entry %d is in the division %q, which the plan does not have", e.Number, e.Division)
		}
	}
	for _, b := range p.Benches {
		if b.CircumferenceMM <= 0 || b.Reads <= 0 {
			return fmt.Errorf("bench %s needs circumference_mm and reads (1 where it reads true)", b.ID)
		}
	}
	return nil
}

// Starts is when the hall opens: at nine by universal time where the plan does not say.
func (p Plan) Starts() (time.Time, error) {
	if p.Opens != "" && p.TimeZone == "" {
		p.TimeZone = "Local"
	}
	zone, err := time.LoadLocation(p.TimeZone) // none is universal time
	if err != nil {
		return time.Time{}, fmt.Errorf("the plan's time zone %q is not known", p.TimeZone)
	}
	at, err := time.ParseInLocation("2006-01-02 15:04", p.Date+" "+cmp.Or(p.Opens, "09:00"), zone)
	if err != nil {
		return time.Time{}, fmt.Errorf("the plan's date %q is no YYYY-MM-DD, or its hour %q no HH:MM", p.Date, p.Opens)
	}
	return at, nil
}
