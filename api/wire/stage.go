package wire

import (
	"encoding/json"

	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// The contract shows the settings of a form under the names that logs have for them;
// only the length of a race is in seconds. So no form is named here: what it has, the
// contract's StageBody has too.

// ShowStage shows the settings of a stage.
func ShowStage(st day.Stage) gen.StageBody {
	var out gen.StageBody
	text, err := json.Marshal(st)
	if err == nil {
		err = json.Unmarshal(text, &out)
	}
	if err != nil {
		// Both types are the program's own, so this is a mistake in it.
		panic(err)
	}
	out.RaceS = Seconds(st.RaceUS)
	return out
}

// ReadStage reads the settings of a stage, the number-th of a division. It refuses
// settings that its form does not have.
func ReadStage(d day.DivisionID, number int, b gen.StageBody) (day.Stage, error) {
	text, err := json.Marshal(b)
	if err != nil {
		return day.Stage{}, err
	}
	var settings map[string]any
	if err := json.Unmarshal(text, &settings); err != nil {
		return day.Stage{}, err
	}
	delete(settings, "race_s")
	settings["race_us"] = Microseconds(b.RaceS)
	if text, err = json.Marshal(settings); err != nil {
		return day.Stage{}, err
	}
	return programme.ReadStage(d, number, text)
}
