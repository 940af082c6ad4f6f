package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
)

// ShowDivision shows what is planned of a division.
func ShowDivision(d day.Division) gen.DivisionBody {
	out := gen.DivisionBody{Name: d.Name, AgeFrom: d.AgeFrom, AgeTo: d.AgeTo, Class: ShowClass(d.Class), Stages: []gen.StageBody{}}
	for _, st := range d.Stages {
		out.Stages = append(out.Stages, ShowStage(st))
	}
	return out
}

// ReadDivision reads a division. It refuses a stage with settings of other forms.
func ReadDivision(id string, b gen.DivisionBody) (day.Division, error) {
	out := day.Division{
		ID: day.DivisionID(id), Name: b.Name, AgeFrom: b.AgeFrom, AgeTo: b.AgeTo,
		Class: ReadClass(b.Class),
	}
	for i, st := range b.Stages {
		stage, err := ReadStage(out.ID, i+1, st)
		if err != nil {
			return day.Division{}, err
		}
		out.Stages = append(out.Stages, stage)
	}
	return out, nil
}
