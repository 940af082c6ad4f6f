package day

import (
	"time"

	"benchmeet/domain/refusal"
)

// Plan is what is known of the day before anybody comes.
type Plan struct {
	Name     string `json:"name"`
	Place    string `json:"place,omitempty"`
	Date     string `json:"date"`                // YYYY-MM-DD, local
	Opens    string `json:"opens,omitempty"`     // HH:MM, local
	Closes   string `json:"closes,omitempty"`    // HH:MM, local: when keys go back
	TimeZone string `json:"time_zone,omitempty"` // IANA name
	// AgeDate is the date at which ages are taken, YYYY-MM-DD; empty is Date.
	AgeDate string `json:"age_date,omitempty"`
	// PackingMin and PrizesMin are the minutes before Closes that packing and the
	// prize-giving take: the last race is to be over before them.
	PackingMin int `json:"packing_min,omitempty"`
	PrizesMin  int `json:"prizes_min,omitempty"`
	// Tasks are what the day needs time for beside its races, in their order.
	Tasks []Task `json:"tasks,omitempty"`
	// Adults is how many adults are expected to run the benches; 0 where that is not known.
	Adults int `json:"adults,omitempty"`
}

// mostTaskMin bounds the tasks of a plan, in minutes.
const mostTaskMin = 600

// MostAdults bounds how many adults run the benches.
const MostAdults = 200

const day = "2006-01-02"

// AgeOn is the date at which ages are taken.
func (p Plan) AgeOn() string {
	if p.AgeDate != "" {
		return p.AgeDate
	}
	return p.Date
}

// AgeOf is the age in whole years of who was born on a date (YYYY-MM-DD), at the day
// by which the meet counts ages; false where one of them is no date or the birth lies
// after it. Somebody born on 29 February is a
// year older on 1 March of a year that has no such day.
func (p Plan) AgeOf(birth string) (int, bool) {
	b, err := time.Parse(day, birth)
	if err != nil {
		return 0, false
	}
	d, err := time.Parse(day, p.AgeOn())
	if err != nil || d.Before(b) {
		return 0, false
	}
	age := d.Year() - b.Year()
	if d.Month() < b.Month() || d.Month() == b.Month() && d.Day() < b.Day() {
		age--
	}
	return age, true
}

// Check refuses what a plan cannot say: a name, date, place or zone that is not one.
func (p Plan) Check() error {
	if p.Name == "" || len(p.Name) > 200 {
		return refusal.New("plan-name")
	}
	for _, d := range []string{p.Date, p.AgeOn()} {
		if _, err := time.Parse(day, d); err != nil {
			return refusal.New("plan-date", "date", d)
		}
	}
	for _, t := range []string{p.Opens, p.Closes} {
		if _, err := time.Parse("15:04", t); t != "" && err != nil {
			return refusal.New("plan-hour", "hour", t)
		}
	}
	if p.PackingMin < 0 || p.PackingMin > mostTaskMin || p.PrizesMin < 0 || p.PrizesMin > mostTaskMin {
		return refusal.New("plan-minutes", "most", mostTaskMin)
	}
	if p.Opens != "" && p.Closes != "" && p.Closes <= p.Opens {
		return refusal.New("plan-hours", "opens", p.Opens, "closes", p.Closes)
	}
	if p.Adults < 0 || p.Adults > MostAdults {
		return refusal.New("adults", "most", MostAdults)
	}
	return p.checkTasks()
}
