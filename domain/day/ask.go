package day

// Ask is a volunteer's request for a re-run. It decides nothing: an official
// grants a re-run or turns the request down.
type Ask struct {
	By     string `json:"by"`
	AtUS   int64  `json:"at_us"`
	Reason Reason `json:"reason"`
	// Rulings is how many rulings there were; a later one about the lane answers.
	Rulings int `json:"rulings"`
}
