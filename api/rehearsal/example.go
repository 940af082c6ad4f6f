package rehearsal

import (
	"fmt"
	"time"
)

// The example's day: how long ago its hall opened when its server starts, how much later than
// told its first heat was called, how long before the start the last one was that was raced
// without spectators, and for how long the hall is open.
const (
	exampleMorning = 45 * time.Minute
	exampleLateMin = 8
	exampleRest    = 4 * time.Minute
	exampleHours   = 150 * time.Minute
	// exampleSeed is of a day that is later still after the first round,
	// for what has to be raced again.
	exampleSeed = 1
)

// ExampleOpens is when the hall of the example opens for a server that starts at an instant,
// in whole five minutes.
func ExampleOpens(now time.Time) time.Time {
	return now.Add(-exampleMorning).Truncate(5 * time.Minute)
}

// ExampleUntil is until when its heats are called before the server starts.
func ExampleUntil(now time.Time) time.Time { return now.Add(-exampleRest) }

// ExamplePlan is the meet that "benchmeet serve --example" plays: small, with short races, so
// that a visitor soon sees a winner. The same opening gives the same plan. A day that would go
// past midnight by the clock of this machine is written in the hours of a zone in which it is
// about noon: the hours of a plan are of one date.
func ExamplePlan(opens time.Time) Plan {
	p := MakePlan(exampleSeed, 16, 4)
	p.ProtestS, p.CallS, p.LateMin = 20, 10, exampleLateMin // a child that does not come is not waited for long
	for i := range p.Divisions {
		p.Divisions[i].Rounds, p.Divisions[i].RaceS, p.Divisions[i].Knockout = 3, 20, 4
	}
	from := opens.Local()
	if to := from.Add(exampleHours); to.Day() != from.Day() {
		ahead := 12 - opens.UTC().Hour() // of -11 to 12 hours, which zones of this kind have
		// In these names the sign is turned round: Etc/GMT-2 is two hours ahead.
		p.TimeZone = fmt.Sprintf("Etc/GMT%+d", -ahead)
		from = opens.In(time.FixedZone(p.TimeZone, ahead*3600))
	}
	p.Date, p.Opens, p.Closes = from.Format(time.DateOnly), from.Format("15:04"), from.Add(exampleHours).Format("15:04")
	p.PackingMin, p.PrizesMin = 10, 15
	for i := range p.Entries {
		p.Entries[i].Birth = bornFor(from, p.Entries[i].Birth)
	}
	return p
}
