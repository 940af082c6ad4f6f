package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
)

// ShowClass shows a car class.
func ShowClass(c day.CarClass) gen.CarClass {
	out := gen.CarClass{
		Name: c.Name, LapM: Metres(c.LapUM), WheelMm: Opt(float64(c.WheelUM) / 1e3),
		Release: Opt(c.Release), Cells: Opt(c.Cells), MassMaxG: Opt(c.MassMaxG),
		Battery: ShowClassBattery(c.Battery),
	}
	if len(c.Checklist) > 0 {
		list := ShowChecklist(c.Checklist)
		out.Checklist = &list
	}
	if len(c.Incidents) > 0 {
		incidents := ShowIncidents(c.Incidents)
		out.Incidents = &incidents
	}
	return out
}

// ReadClass reads a car class.
func ReadClass(b gen.CarClass) day.CarClass {
	return day.CarClass{
		Name: b.Name, WheelUM: Rounded(Deref(b.WheelMm) * 1e3), LapUM: Micrometres(b.LapM),
		Release: Deref(b.Release), Cells: Deref(b.Cells), MassMaxG: Deref(b.MassMaxG),
		Incidents: ReadIncidents(b.Incidents), Battery: ReadClassBattery(b.Battery), Checklist: ReadChecklist(b.Checklist),
	}
}
