package programme

import (
	"slices"

	"benchmeet/domain/day"
)

// Standing is one line of a division's or a stage's table.
type Standing struct {
	// Rank is shared by equals (1 1 3); 0 is unranked.
	Rank  int         `json:"rank"`
	Entry day.EntryID `json:"entry"`
	// Stage is the one whose result made the line.
	Stage int `json:"stage"`
	// Status is set where the entry left the division.
	Status day.LaneStatus `json:"status,omitempty"`
	// Exit says how far an entry came in a knockout.
	Exit string `json:"exit,omitempty"`
	// PlateRank is the place in the plate of a knockout, for those who came into it
	// and raced its last heat for them.
	PlateRank int `json:"plate_rank,omitempty"`
	// DistanceUM is the result of timed rounds in µm, rounded half up where it is
	// a mean; a knockout ranks without one. UUM is its standard uncertainty, see timedU.
	DistanceUM int64 `json:"distance_um,omitempty"`
	UUM        int64 `json:"u_um,omitempty"`
	// Group is the entry's group in a stage of groups, GroupPlace its place there.
	Group      string `json:"group,omitempty"`
	GroupPlace int    `json:"group_place,omitempty"`
	// Band is the division that the entry is ranked in where several race together,
	// BandRank its rank there, shared as Rank is.
	Band     day.DivisionID `json:"band,omitempty"`
	BandRank int            `json:"band_rank,omitempty"`
	// Points are those of a stage for points; where PointsOver is set they are its
	// so many parts of one, since equals share the points of their places.
	Points     *int64 `json:"points,omitempty"`
	PointsOver int64  `json:"points_over,omitempty"`
	// DecidedBy is the tie-break that put the line behind the one above it.
	DecidedBy string `json:"decided_by,omitempty"`
	// TooCloseTo are entries whose results this one cannot be told from.
	TooCloseTo []day.EntryID `json:"too_close_to,omitempty"`
	// Runs are the runs by round, of a knockout too.
	Runs []TimedRun `json:"runs,omitempty"`
	// Corrections are those of the place itself: somebody was put out after the result
	// was official, or taken in again. Those of a run stand with it.
	Corrections []Correction `json:"corrections,omitempty"`
	// Earlier are the entry's lines in the stages before, the newest first, ranked as
	// that stage ranks them. They have no Earlier of their own.
	Earlier []Standing `json:"earlier,omitempty"`
}

// TimedRun is one round's run in a standing.
type TimedRun struct {
	Round      int            `json:"round"`
	Heat       day.HeatID     `json:"heat"`
	Run        day.RunID      `json:"run,omitempty"`
	Status     day.LaneStatus `json:"status,omitempty"`
	DistanceUM int64          `json:"distance_um,omitempty"`
	UUM        int64          `json:"u_um,omitempty"`
	LowUM      *int64         `json:"low_um,omitempty"`
	HighUM     *int64         `json:"high_um,omitempty"`
	Valued     bool           `json:"valued"`
	// FactorPPM and AsReadUM are those of the LaneResult.
	FactorPPM int64 `json:"factor_ppm,omitempty"`
	AsReadUM  int64 `json:"as_read_um,omitempty"`
	// FarOff marks a run that no car of the division has driven, until an official has
	// ruled on it.
	FarOff bool `json:"far_off,omitempty"`
	// PenaltyUM is what a ruling took off; DistanceUM is after it.
	PenaltyUM   int64        `json:"penalty_um,omitempty"`
	Corrections []Correction `json:"corrections,omitempty"`
}

// valued says whether a line has a distance that ranks.
func (l Standing) valued() bool {
	return slices.ContainsFunc(l.Runs, func(r TimedRun) bool { return r.Valued })
}

// Equal says whether two lines are the same in everything. A line without runs is the
// same as one with none.
func (l Standing) Equal(o Standing) bool {
	return l.Rank == o.Rank && l.Entry == o.Entry && l.Stage == o.Stage && l.Status == o.Status && l.Exit == o.Exit &&
		l.PlateRank == o.PlateRank && l.DistanceUM == o.DistanceUM && l.UUM == o.UUM && l.Group == o.Group &&
		l.GroupPlace == o.GroupPlace && l.Band == o.Band && l.BandRank == o.BandRank && same(l.Points, o.Points) &&
		l.PointsOver == o.PointsOver && l.DecidedBy == o.DecidedBy &&
		slices.Equal(l.TooCloseTo, o.TooCloseTo) && slices.EqualFunc(l.Runs, o.Runs, TimedRun.equal) &&
		slices.Equal(l.Corrections, o.Corrections) && slices.EqualFunc(l.Earlier, o.Earlier, Standing.Equal)
}

func (r TimedRun) equal(o TimedRun) bool {
	return same(r.LowUM, o.LowUM) && same(r.HighUM, o.HighUM) && slices.Equal(r.Corrections, o.Corrections) &&
		r.plain() == o.plain()
}

// plain is a run's fields that are values by themselves.
func (r TimedRun) plain() any {
	type plain struct {
		round           int
		heat            day.HeatID
		run             day.RunID
		status          day.LaneStatus
		um, u           int64
		valued, far     bool
		ppm, read, less int64
	}
	return plain{r.Round, r.Heat, r.Run, r.Status, r.DistanceUM, r.UUM, r.Valued, r.FarOff, r.FactorPPM, r.AsReadUM, r.PenaltyUM}
}

func same[T comparable](a, b *T) bool { return a == b || a != nil && b != nil && *a == *b }

// Disqualified says whether the entry is not ranked at all.
func (l Standing) Disqualified() bool { return l.Status == day.StatusDisqualified }

// standingOf starts an entry's line.
func standingOf(s *day.State, id day.EntryID, stage int) Standing {
	return Standing{Entry: id, Stage: stage, Status: s.Entries[id].StatusOut()}
}

// rankLines gives sorted lines their ranks: equals share one, the disqualified
// have none.
func rankLines(lines []Standing, compare func(a, b Standing) int) {
	for i := range lines {
		switch {
		case lines[i].Disqualified():
			lines[i].Rank = 0
		case i > 0 && compare(lines[i-1], lines[i]) == 0:
			lines[i].Rank = lines[i-1].Rank
		default:
			lines[i].Rank = i + 1
		}
	}
}

// CompareBool orders false before true.
func CompareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// disqualifiedLast moves the lines without a rank to the end.
func disqualifiedLast(lines []Standing) []Standing {
	slices.SortStableFunc(lines, func(a, b Standing) int { return CompareBool(a.Rank == 0, b.Rank == 0) })
	return lines
}
