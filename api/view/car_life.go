package view

import (
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/workshop"
)

// CarLife is what a car was made of over its life, with all its practice runs. Its cost
// goes with those.
func CarLife(s *club.State, car club.Car) gen.CarLife {
	life := s.Lives.At(car.ID)
	now := life.Now()
	out := gen.CarLife{
		Seq: s.Seq, CarNumber: car.Number, State: now.State, Fitting: now.Fitting, Setup: wire.ShowSetup(now.Setup),
		Plans: []gen.ComparisonPlan{}, States: []gen.CarState{}, Steps: []gen.CarStep{}, Runs: []gen.LifeRun{},
	}
	for _, step := range life.Steps {
		out.Steps = append(out.Steps, gen.CarStep{
			State: step.State, Fitting: step.Fitting, At: wire.Instant(step.AtUS), Came: wire.OptInstant(step.CameUS),
		})
	}
	for _, plan := range life.Plans {
		out.Plans = append(out.Plans, wire.ShowComparisonPlan(plan))
	}
	history := s.History(car.ID, allRuns)
	counted := map[int]int{}
	for _, r := range slices.Backward(history) {
		out.Runs = append(out.Runs, *lifeRun(s, r))
		if r.Counts() {
			counted[r.State]++
		}
	}
	if last := slices.IndexFunc(history, club.Practice.Counts); last >= 0 {
		out.Best = farthest(s, car.ID, history[last].RaceUS)
	}
	before := workshop.Setup{}
	for state := range life.States() + 1 {
		setup, _ := life.Setup(state)
		changed := []gen.CarPart{}
		if state > 1 {
			changed = wire.ShowParts(workshop.Apart(before, setup))
		}
		if state > 0 || counted[0] > 0 {
			out.States = append(out.States, gen.CarState{State: state, Setup: wire.ShowSetup(setup), Changed: changed, Runs: counted[state]})
		}
		before = setup
	}
	return out
}
