package day

// Ask is what a volunteer asks for: a re-run, which an official grants or turns down,
// or an official at the bench. It decides nothing.
type Ask struct {
	By   string `json:"by"`
	AtUS int64  `json:"at_us"`
	// Reason is why a re-run is asked for.
	Reason Reason `json:"reason"`
	// Rulings is how many rulings there were; a later one about the lane answers.
	Rulings int `json:"rulings"`
}
