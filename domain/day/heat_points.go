package day

// HeatPoints are what the cars of a heat of two get for its outcome.
type HeatPoints struct {
	Win  int64 `json:"win"`
	Draw int64 `json:"draw"`
	Loss int64 `json:"loss"`
}
