package meet_test

func init() {
	goldenDays = append(
		goldenDays, "heats", "points_rounds", "lane_design", "plate", "legs", "let_draw_stand", "put_away", "clock_ahead", "told_times",
		"tasks_adults_cuts",
	)
}
