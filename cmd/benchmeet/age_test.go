package main

import (
	"fmt"
	"strings"
	"testing"

	"benchmeet/api/auth"
)

// A date of birth that is put right judges the age band again at once, wherever the child
// is entered, for officials alone.
func TestCorrectedBirthDateJudgesTheBandAgain(t *testing.T) {
	w := newWired(t, "")
	w.listMeet("spring")
	w.listMeet("autumn")
	person := `"name":"Kit","display_name":"","on_screen":false,"in_results":false,"photo":false,"birth_date":%q`
	w.do("POST", "/api/v1/meets/spring/entries", fmt.Sprintf(`{"division":"junior","start_number":1,"person":{`+person+`}}`, "2018-05-02"))
	entrant := *w.entriesOf("spring")[0].Entrant
	w.do("POST", "/api/v1/meets/autumn/entries", fmt.Sprintf(`{"division":"open","start_number":1,"entrant":%q}`, entrant))
	for _, c := range []struct {
		birth, mark string
		age         int
	}{
		{"2018-05-02", "", 8}, {"2009-04-17", "too-old", 18}, {"2016-04-18", "", 10}, {"2016-04-17", "too-old", 11}, {"2021-05-02", "younger", 5},
	} {
		w.do("PUT", "/api/v1/people/"+entrant, fmt.Sprintf(`{`+person+`}`, c.birth))
		for meet, mark := range map[string]string{"spring": c.mark, "autumn": ""} {
			e := w.entriesOf(meet)[0]
			got := ""
			if e.AgeMark != nil {
				got = string(*e.AgeMark)
			}
			if e.Age == nil || *e.Age != c.age || got != mark {
				t.Errorf("%s, born %s: age %v, mark %q, wanted %d and %q", meet, c.birth, e.Age, got, c.age, mark)
			}
		}
	}
	public := w.send(request{role: auth.Public, method: "GET", path: "/api/v1/meets/spring/entries"})
	if strings.Contains(string(public.body), "age") {
		t.Errorf("the public sees a child's age: %s", public.body)
	}
}
