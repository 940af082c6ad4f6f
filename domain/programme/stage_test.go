package programme_test

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"
)

func TestReadStage(t *testing.T) {
	tests := []struct {
		name   string
		number int
		stage  string
		code   refusal.Code
	}{
		{"timed rounds", 1, `{"kind":"timed-rounds","race_us":60000000,"lanes":4,"rounds":2,"rule":"best"}`, ""},
		{"a form that there is not", 1, `{"kind":"relay","race_us":60000000,"lanes":4}`, "stage-kind"},
		{"no form", 1, `{"race_us":60000000,"lanes":4}`, "stage-kind"},
		{"a setting that there is not", 1, `{"kind":"swiss","race_us":1,"lanes":2,"rounds":2,"spin":1}`, "stage-setting"},
		{"a setting of another form", 1, `{"kind":"swiss","race_us":1,"lanes":2,"rounds":2,"legs":2}`, "stage-setting"},
		{
			"nothing of another form's setting", 1,
			`{"kind":"swiss","race_us":1,"lanes":2,"rounds":2,"legs":0,"plate":false,"rule":"","place_points":[],"points":null}`, "",
		},
		{
			"a heat for the third place of timed rounds", 1,
			`{"kind":"timed-rounds","race_us":1,"lanes":2,"rounds":2,"rule":"best","third_place":true}`, "timed-third",
		},
		{"a count of rounds of a knockout", 1, `{"kind":"knockout","race_us":1,"lanes":2,"rounds":3}`, "knockout-rounds"},
		{"a rule that a knockout does not need", 1, `{"kind":"knockout","race_us":1,"lanes":2,"rule":"best"}`, ""},
		{
			"seeds where all is dealt", 1, `{"kind":"timed-rounds","race_us":1,"lanes":2,"rounds":2,"rule":"best","seeding":"hand"}`,
			"stage-setting",
		},
		{
			"a seeding of a second stage", 2, `{"kind":"timed-rounds","race_us":1,"lanes":2,"rounds":2,"rule":"best","seeding":"hand"}`,
			"stage-seeding",
		},
		{"late entries of a second stage", 2, `{"kind":"knockout","race_us":1,"lanes":2,"late":"no"}`, "stage-late"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := programme.ReadStage("junior", test.number, []byte(test.stage))
			no, _ := refusal.As(err)
			switch {
			case err == nil && test.code != "":
				t.Errorf("it was read, want %s", test.code)
			case err != nil && (no == nil || no.Code != test.code):
				t.Errorf("got %v, want %q", err, test.code)
			case no != nil && (no.Error() == string(no.Code) || strings.Contains(no.Error(), "{")):
				t.Errorf("the sentence is %q", no)
			}
		})
	}
}

// Every setting of every form is written and read again.
func TestStagesKeepAllSettings(t *testing.T) {
	for _, kind := range programme.Kinds() {
		form := reflect.New(reflect.TypeOf(programmetest.Stage(kind, nil).Form)).Elem()
		fill(form)
		st := day.Stage{RaceUS: 5, Lanes: 3, Entries: 7, Form: form.Interface().(day.Settings)}
		text := asJSON(t, st)
		var again day.Stage
		if err := json.Unmarshal(text, &again); err != nil {
			t.Fatal(err)
		}
		if !st.Equal(again) {
			t.Errorf("%s: %+v comes back as %+v from %s", kind, st, again, text)
		}
		read, err := programme.ReadStage("junior", 1, text)
		if err != nil || !st.Equal(read) {
			t.Errorf("%s: read as %+v (%v) from %s", kind, read, err, text)
		}
	}
	if len(programme.Kinds()) < 8 {
		t.Errorf("the forms are %v", programme.Kinds())
	}
}

// fill gives every field another value than none.
func fill(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(reflect.NewAt(v.Field(i).Type(), v.Field(i).Addr().UnsafePointer()).Elem()) // embedded ones are not exported
		}
	case reflect.String:
		v.SetString("x")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(9)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem())
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fill(v.Index(0))
		fill(v.Index(1))
	}
}

// A stage that a later program wrote, in a form that this one does not have, is not
// read as something else.
func TestUnknownFormInALog(t *testing.T) {
	_, err := day.Decode(
		"DivisionAdded", day.VersionOf("DivisionAdded"),
		[]byte(`{"division":{"id":"d","name":"d","stages":[{"kind":"relay","lanes":2,"race_us":1}]}}`),
	)
	if err == nil || !strings.Contains(err.Error(), `does not know the form of competition "relay"`) {
		t.Errorf("got %v", err)
	}
}
