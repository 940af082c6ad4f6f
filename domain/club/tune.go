package club

import (
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
	"benchmeet/domain/tuning"
	"benchmeet/domain/workshop"
)

// ChangeCar notes what a car is made of from now on. A number that is not registered yet
// is registered with it.
type ChangeCar struct {
	Number int
	Setup  workshop.Setup
	// Refit says that something was taken out and fitted again, though it is the same.
	Refit bool
	// NotedUS is when it was noted, by the server's clock as the phone knew it: a phone that
	// was cut off tells it later. 0 is now. The runs that the car has made since then are of
	// what it was changed to.
	NotedUS int64
}

// CarChanged is a step in the life of a car.
type CarChanged struct {
	Car     day.CarID      `json:"car"`
	State   int            `json:"state"`
	Fitting int            `json:"fitting"`
	Setup   workshop.Setup `json:"setup"`
	// NotedUS is from when it counts; 0 is the time of the event.
	NotedUS int64  `json:"noted_us,omitempty"`
	By      string `json:"by"`
}

func (c ChangeCar) decide(s *State, m meet.Meta) ([]Event, error) {
	if err := c.Setup.Check(); err != nil {
		return nil, err
	}
	id, out, err := numbered(s, c.Number, m)
	if err != nil {
		return nil, err
	}
	car, known := s.Cars.Get(id)
	if car.Reference {
		return nil, refusal.New("setup-reference", "number", car.Number)
	}
	step, isNew := s.Lives.At(id).Next(c.Setup, c.Refit)
	if !isNew {
		return nil, nil
	}
	changed := CarChanged{
		Car: id, State: step.State, Fitting: step.Fitting, Setup: c.Setup, NotedUS: countsFrom(s, id, c.NotedUS, m.NowUS), By: m.Actor,
	}
	out = append(out, changed)
	if changed.NotedUS > 0 {
		out = append(out, restated(s, changed, m)...)
	}
	if c.Setup.WheelUM > 0 && (!known || car.WheelUM != c.Setup.WheelUM) {
		// Runs are measured by what is registered of a car.
		car.ID, car.Number, car.WheelUM = id, c.Number, c.Setup.WheelUM
		out = append(out, CarRegistered{Car: car})
	}
	return out, nil
}

// Type is the name in the log.
func (CarChanged) Type() string { return "CarChanged" }

func (e CarChanged) apply(s *State) {
	life := s.Lives.At(e.Car)
	step := workshop.Step{State: e.State, Fitting: e.Fitting, Setup: e.Setup, AtUS: s.TimeUS}
	if e.NotedUS > 0 {
		step.AtUS, step.CameUS = e.NotedUS, s.TimeUS
	}
	life.Steps = append(life.Steps[:len(life.Steps):len(life.Steps)], step)
	s.Lives = s.Lives.WithBy(s.owner, e.Car, life)
}

// PlanComparison announces a comparison of two states of a car, before both have run.
type PlanComparison struct {
	Number       int
	From, To     int
	Fittings     int
	RunsAFitting int
}

// ComparisonPlanned says how often a comparison will fit and run.
type ComparisonPlanned struct {
	Car          day.CarID `json:"car"`
	From         int       `json:"from"`
	To           int       `json:"to"`
	Fittings     int       `json:"fittings"`
	RunsAFitting int       `json:"runs_a_fitting"`
	By           string    `json:"by"`
}

// mostRunsAFitting bounds a plan: more of them tell nothing of the next fitting.
const mostRunsAFitting = 4

func (c PlanComparison) decide(s *State, m meet.Meta) ([]Event, error) {
	car, known := s.Numbers.Get(c.Number)
	if !known {
		return nil, refusal.New("no-car")
	}
	life := s.Lives.At(car)
	_, from := life.Setup(c.From)
	_, to := life.Setup(c.To)
	switch {
	case !from || !to || c.From == c.To:
		return nil, refusal.New("compare-states")
	case c.Fittings < 4 || c.Fittings > tuning.MostFittings || c.Fittings%2 != 0 || c.RunsAFitting < 1 || c.RunsAFitting > mostRunsAFitting:
		return nil, refusal.New("compare-plan", "most", tuning.MostFittings, "runs", mostRunsAFitting)
	}
	if old, there := life.Planned(c.From, c.To); there && old.Fittings == c.Fittings && old.RunsAFitting == c.RunsAFitting {
		return nil, nil
	}
	return []Event{ComparisonPlanned{
		Car: car, From: c.From, To: c.To, Fittings: c.Fittings, RunsAFitting: c.RunsAFitting, By: m.Actor,
	}}, nil
}

// Type is the name in the log.
func (ComparisonPlanned) Type() string { return "ComparisonPlanned" }

func (e ComparisonPlanned) apply(s *State) {
	life := s.Lives.At(e.Car)
	plan := workshop.Plan{From: e.From, To: e.To, Fittings: e.Fittings, RunsAFitting: e.RunsAFitting, AtUS: s.TimeUS}
	life.Plans = append(life.Plans[:len(life.Plans):len(life.Plans)], plan)
	s.Lives = s.Lives.WithBy(s.owner, e.Car, life)
}
