package rehearsal

import "testing"

func TestReadFrame(t *testing.T) {
	for text, want := range map[string]liveFrame{
		`{"topic":"standings/junior","seq":12,"data":{"a":[1,"}"]}}`: {Topic: "standings/junior", Seq: 12, Data: []byte(`{"a":[1,"}"]}`)},
		`{"topic":"speed/b1","data":7}`:                              {Topic: "speed/b1", Data: []byte("7")},
	} {
		got, err := readFrame([]byte(text))
		if err != nil || got.Topic != want.Topic || got.Seq != want.Seq || string(got.Data) != string(want.Data) {
			t.Errorf("%s: got %+v, %v", text, got, err)
		}
	}
	for _, text := range []string{``, `[]`, `{"topic":"board"}`, `{"topic":7,"data":1}`, `{"other":1}`} {
		if got, err := readFrame([]byte(text)); err == nil {
			t.Errorf("%s: got %+v", text, got)
		}
	}
}
