package main

import (
	"context"
	"encoding/json"
	"net/http"
	"strconv"

	"benchmeet/tools/rows"
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

// there is the order of a meet that is written: an entry is there, or is not.
type there struct {
	There bool `json:"there"`
}

// decodeAndWrite does the least that a server does with an order that is written: it
// decodes it strictly, has an event and an answer on disk, and answers in JSON.
func decodeAndWrite(to *rows.Postgres, streams int) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var body there
		read := json.NewDecoder(r.Body)
		read.DisallowUnknownFields()
		stream, err := strconv.Atoi(r.URL.Query().Get("stream"))
		if err == nil {
			err = read.Decode(&body)
		}
		if err != nil || stream < 0 || stream >= streams {
			http.Error(w, "an order and a stream are needed", http.StatusBadRequest)
			return
		}
		// Whose post is first writes for all that wait beside it.
		if err := to.Write(context.WithoutCancel(r.Context()), stream); err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		w.Header().Set("Content-Type", "application/json")
		_ = json.NewEncoder(w).Encode(map[string]any{"seq": 1, "events": []bool{body.There}})
	}
}
