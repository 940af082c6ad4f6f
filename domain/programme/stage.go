package programme

import (
	"bytes"
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"strings"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// forms are entered by the files of the forms themselves, with nothing set.
var forms = map[day.StageKind]Form{}

// enter puts a form into the table, and lets logs be read that hold its stages.
func enter[F Form]() {
	var zero F
	forms[zero.Kind()] = zero
	day.EnterForm[F]()
}

// FormOf is a stage of a division, from 1, and the form in which it is raced.
func FormOf(d day.Division, stage int) (day.Stage, Form) {
	st := d.Stages[stage-1]
	form, _ := st.Form.(Form)
	return st, form
}

// ReadStage makes a stage, the number-th of a division, of its JSON: kind, race_us
// in µs, lanes, entries and the settings of its form. A setting that is zero or empty
// is not given. It refuses forms that are not known, and settings of other forms, so
// that nobody believes in a setting that has no effect.
func ReadStage(d day.DivisionID, number int, text []byte) (day.Stage, error) {
	var given map[string]json.RawMessage
	var shared struct {
		Kind day.StageKind `json:"kind"`
	}
	if err := json.Unmarshal(text, &given); err != nil {
		return day.Stage{}, err
	}
	if err := json.Unmarshal(text, &shared); err != nil {
		return day.Stage{}, err
	}
	form, known := forms[shared.Kind]
	if !known {
		return day.Stage{}, refusal.New("stage-kind", "division", d, "stage", number, "kind", shared.Kind)
	}
	maps.DeleteFunc(given, func(_ string, value json.RawMessage) bool { return empty(value) })
	own := settingsOf(form)
	for _, name := range slices.Sorted(maps.Keys(given)) {
		if !slices.Contains(own, name) && !day.OneOf(name, "kind", "race_us", "lanes", "entries") {
			return day.Stage{}, foreign(form, d, number, name)
		}
	}
	text, err := json.Marshal(given)
	if err != nil {
		return day.Stage{}, err
	}
	var st day.Stage
	err = json.Unmarshal(text, &st)
	return st, err
}

func empty(value json.RawMessage) bool {
	return slices.Contains([]string{"0", "false", `""`, "[]", "null"}, string(bytes.TrimSpace(value)))
}

// settingsOf are the names of a form's settings.
func settingsOf(f Form) []string {
	var out []string
	for _, field := range reflect.VisibleFields(reflect.TypeOf(f)) {
		if name, _, _ := strings.Cut(field.Tag.Get("json"), ","); name != "" {
			out = append(out, name)
		}
	}
	return out
}

// Kinds names the forms of competition that there are, in alphabetical order.
func Kinds() []day.StageKind { return slices.Sorted(maps.Keys(forms)) }

// foreign is the refusal of a setting that a form does not have. A form may know a
// better word for some.
func foreign(f Form, d day.DivisionID, number int, setting string) error {
	if err := firstStageOnly(d, number, setting); err != nil {
		return err
	}
	if of, is := f.(interface {
		foreign(d day.DivisionID, number int, setting string) error
	}); is {
		if err := of.foreign(d, number, setting); err != nil {
			return err
		}
	}
	return refusal.New("stage-setting", "division", d, "stage", number, "kind", f.Kind(), "setting", setting)
}
