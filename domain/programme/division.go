package programme

import (
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// mostMassG is more than any palm-sized car weighs, in g.
const mostMassG = 10_000

// CheckDivision refuses settings of a division, its class and its stages that cannot be raced.
func CheckDivision(d day.Division) error {
	if err := day.CheckID("division", string(d.ID)); err != nil {
		return err
	}
	switch {
	case d.Name == "" || len(d.Name) > 100:
		return refusal.New("division-name", "division", d.ID)
	case d.AgeFrom < 0 || d.AgeTo < 0 || d.AgeTo > 150 || d.AgeTo != 0 && d.AgeTo < d.AgeFrom:
		return refusal.New("division-ages", "division", d.ID)
	case d.Class.LapUM < 1_000 || d.Class.LapUM > 1_000_000_000 || d.Class.WheelUM < 0 || d.Class.WheelUM > 1_000_000:
		return refusal.New("division-lengths", "division", d.ID)
	case d.Class.Cells < 0 || d.Class.Cells > battery.MostCells || d.Class.MassMaxG < 0 || d.Class.MassMaxG > mostMassG:
		return refusal.New("division-class", "division", d.ID, "cells", battery.MostCells, "kg", mostMassG/1000)
	case len(d.Stages) == 0 || len(d.Stages) > maxStages:
		return refusal.New("division-stages", "division", d.ID, "most", maxStages)
	}
	if err := d.Class.CheckIncidents(); err != nil {
		return err
	}
	if err := d.Class.CheckTable(d.ID); err != nil {
		return err
	}
	for i, st := range d.Stages {
		if err := checkStage(st, d.ID, i+1); err != nil {
			return err
		}
	}
	return nil
}

func checkStage(st day.Stage, d day.DivisionID, number int) error {
	form, known := st.Form.(Form)
	if !known {
		return refusal.New("stage-kind", "division", d, "stage", number, "kind", st.Kind())
	}
	switch {
	case st.RaceUS < minRaceUS || st.RaceUS > maxRaceUS:
		return refusal.New("stage-race", "division", d, "stage", number)
	case st.Lanes < 1 || st.Lanes > maxLanes:
		return refusal.New("stage-lanes", "division", d, "stage", number, "most", maxLanes)
	case st.Entries < 0 || st.Entries > day.MaxStartNumber || number == 1 && st.Entries != 0:
		return refusal.New("stage-entries", "division", d, "stage", number)
	}
	if err := checkLate(st, d, number); err != nil {
		return err
	}
	if err := checkSeeds(st, d, number); err != nil {
		return err
	}
	return form.Check(d, number, st)
}
