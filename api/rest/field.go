package rest

import (
	"errors"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"

	"benchmeet/api/wire"
	"benchmeet/domain/refusal"
)

// fieldOf says which field of an order a refusal is about, by its name in the body,
// so that a page can mark it. A refusal about several fields, or about the state of
// the day, is not here. A test holds each to be a field of an order's body.
var fieldOf = map[refusal.Code]string{
	"plan-name": "name", "plan-date": "date", "plan-hours": "closes", "division-name": "name", "division-ages": "age_from",
	"bench-unlike": "circumference_mm", "bench-measured": "circumference_mm", "bench-number": "number",
	"start-number": "start_number", "start-number-taken": "start_number", "birth-date": "birth_date", "too-old": "division",
	"entries-closed": "division", "entry-late": "division", "entrant-there": "division", "entry-team": "club",
	"wrong-car": "start_number", "hand-unlike": "distance_m", "hand-distance": "distance_m", "penalty-range": "penalty_m",
	"rerun-counts": "counts", "reason-code": "reason", "club-name": "name",
	"car-number": "number", "car-taken": "number", "car-wheel": "wheel_mm", "practice-time": "race_s",
	"pack-whose": "entry", "instrument": "instrument", "no-pack": "pack", "packs-count": "packs", "pack-twice": "packs",
	"pack-there": "packs", "pack-dealt": "pack", "pack-others": "pack",
}

// fieldIn is the field that a refusal is about, "" where it is about none: by the table,
// or, for a body that the contract does not allow, the field that spoils it.
func fieldIn(no *refusal.Refusal, err error) string {
	var unvalid *openapi3filter.RequestError
	var schema *openapi3.SchemaError
	if !errors.As(err, &unvalid) || unvalid.Parameter != nil || !errors.As(unvalid.Err, &schema) {
		return fieldOf[no.Code]
	}
	path := schema.JSONPointer()
	if len(path) == 0 || wire.Short(path[len(path)-1]) != path[len(path)-1] {
		return "" // about the whole, or about a name that no page has
	}
	return path[len(path)-1]
}
