package main

import (
	"encoding/json"
	"net/http"
)

// pause is the order of a meet that the benchmark sends.
type pause struct {
	Reason struct {
		Code string `json:"code"`
		Text string `json:"text"`
	} `json:"reason"`
}

// decode is the least that a server does with an order: it decodes it strictly and
// answers in JSON.
func decode(w http.ResponseWriter, r *http.Request) {
	var body pause
	read := json.NewDecoder(r.Body)
	read.DisallowUnknownFields()
	if err := read.Decode(&body); err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(map[string]any{"seq": 1, "events": []string{body.Reason.Code}})
}
