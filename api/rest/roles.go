package rest

import (
	"context"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/domain/refusal"
)

// Who may do what, by the contract's operation. What is missing here nobody may
// do; tests hold the table complete, and hold what each role gets to
// testdata/roles.txt in cmd/benchmeet.
var (
	anybody    = append(auth.Roles(), auth.Public)
	signedIn   = auth.Roles()
	inHall     = []auth.Role{auth.Organiser, auth.Official, auth.Referee, auth.Inspector, auth.Volunteer}
	boxes      = []auth.Role{auth.Organiser, auth.Box}                                              // and the bench must be theirs, see MayUse
	phones     = []auth.Role{auth.Organiser, auth.Official, auth.Referee, auth.Volunteer}           // likewise
	atBench    = []auth.Role{auth.Organiser, auth.Official, auth.Referee, auth.Volunteer, auth.Box} // likewise
	referees   = []auth.Role{auth.Organiser, auth.Official, auth.Referee}
	inspectors = []auth.Role{auth.Organiser, auth.Official, auth.Inspector}
	both       = []auth.Role{auth.Organiser, auth.Official, auth.Referee, auth.Inspector}
	registrars = []auth.Role{auth.Organiser, auth.Official} // see birth dates
	organisers = []auth.Role{auth.Organiser}

	may = map[string][]auth.Role{
		"GetAbout": anybody, "GetSession": anybody, "SignIn": anybody, "SignInByName": anybody, "SignOut": anybody,
		"ListMeets": anybody, "GetMeet": anybody, "GetBoard": anybody, "GetStandings": anybody,
		"GetBracket": anybody, "ListEntries": anybody, "GetCarDay": anybody, "ListHeats": anybody, "ListRuns": anybody,
		"GetStandingsTable": anybody, "GetTrace": anybody, "GetCurve": anybody, "GetRunDifference": anybody, "GetLog": anybody,
		"GetDayPlan": anybody, "GetCalendar": anybody, "ListPractice": anybody, "GetBenchComparison": anybody,
		"ListPracticeSessions": anybody, "GetPracticeSession": anybody, "GetCarLife": anybody, "GetCompared": anybody, "GetBeside": anybody,
		"GetPracticeClass": anybody, "GetPracticeClassTable": anybody, "GetCarLifeTable": anybody, "GetPracticeCurve": anybody,

		"ListBenches": signedIn, "ListCars": inHall, "GetSessionFigures": inHall,
		"GetBenchOrder": atBench, "PostChunk": boxes, "GetPracticeSignal": phones,
		"CancelPractice": phones, "GuessRun": phones, "MovePracticeRun": phones, "DropPracticeRun": phones, "KeepPracticeRun": phones,
		"JoinQueue": phones, "LeaveQueue": phones, "SkipTurn": phones, "ChangeCar": phones, "PlanComparison": phones,
		"ArmPractice": phones, "ConfirmReady": phones, "TakeReadyBack": phones, "WantOfficial": phones,
		"RecordHandCount": phones, "AskRerun": phones,
		"LodgeProtest": phones, // a volunteer's is bounded, see meet.LodgeProtest

		"CheckIn": inspectors, "GetUsualTable": both, "GetInspectorTable": both,
		"CheckBattery": inspectors, "AddPacks": inspectors, "IssuePack": inspectors, "ReturnPack": inspectors,
		"PutPackBack": inspectors, "DealPacks": inspectors, "InspectCar": inspectors, "LapseInspection": inspectors,

		"GetCalendarAddress": referees, "TellTimes": referees, "LookDayPlan": referees, "GetCuts": referees,
		"CountAdults": referees, "RehearseDay": referees, "ChooseCuts": organisers,
		"OrderHeat": referees, "OrderHeats": referees,
		"CompareFormats": referees,
		"ListDecisions":  referees, "ListRulings": referees, "ListProtests": referees,
		"CallHeat": referees, "CallOff": referees, "MoveLane": referees, "LeaveLane": referees, "StartHeat": referees,
		"MakeRuling": referees, "RuleProtest": referees, "PauseMeet": referees, "ResumeMeet": referees,
		"SetBenchService": referees, "CloseRound": referees, "DrawRound": referees,
		"GetSeedOrder": referees, "ListRatings": referees, "SeedDivision": referees, "PreviewSeeds": referees,
		"BeginReferenceCheck": referees, "DropReferenceRun": referees, "AdoptFactors": referees, "WithdrawFactors": referees,
		"OpenPracticeSession": referees, "SetPracticeSession": referees, "ClosePracticeSession": referees,
		"PutCar": referees, "LookMeasuredAgain": referees,

		"ListPeople": registrars, "PutPerson": registrars, "TakeEntry": registrars, "ChangeEntry": registrars,
		"LookEntryTable": registrars, "TakeEntryTable": registrars,

		"ListTokens": organisers, "MakeToken": organisers, "RevokeToken": organisers, "SetKeysRight": organisers,
		"ListClubs": organisers, "InviteClub": organisers, // of the server's own club
		"ListSessions": organisers, "EndSession": organisers, "EndOtherSessions": organisers,
		"ListAccounts": organisers, "SetAccount": organisers, "DropAccount": organisers,
		"ErasePerson": organisers, "EraseText": organisers, "PutBench": organisers, "RetireBench": organisers,
		"GetEntryTable": organisers, "PlanMeet": organisers, "PutPlan": organisers, "PutRules": organisers, "AddMeetBench": organisers,
		"MeasureAgain": organisers, "PutDivision": organisers,
		"ListPutAway": organisers, "PutAway": organisers, "BringBack": organisers,
		"MergeDivisions": organisers, "SplitDivision": organisers,
		"CloseEntries": organisers, "DrawAgain": organisers, "LetDrawStand": organisers, "PublishResults": organisers, "EndProgramme": organisers,
	}
)

// atRoot are the operations that name no meet and that strangers may use at the root
// of a server with several clubs. What names one is for those who know its address.
var atRoot = map[string]bool{"GetAbout": true, "GetSession": true, "SignIn": true, "SignInByName": true, "SignOut": true}

// Unlisted refuses what would list something of a club to strangers at the root of a
// server that several share: a child is found by the address of the club alone.
func Unlisted(ctx context.Context) error {
	if placeOf(ctx).Shared && Caller(ctx).Role == auth.Public {
		return refusal.New("several-clubs")
	}
	return nil
}

// authorise refuses callers whose role may not do an operation.
func authorise(next gen.StrictHandlerFunc, operation string) gen.StrictHandlerFunc {
	return func(c echo.Context, request any) (any, error) {
		ctx := c.Request().Context()
		if err := allowed(Caller(ctx), operation); err != nil {
			return nil, err
		}
		if c.Param("meet") == "" && !atRoot[operation] {
			if err := Unlisted(ctx); err != nil {
				return nil, err
			}
		}
		return next(c, request)
	}
}

func allowed(caller auth.Caller, operation string) error {
	switch {
	case caller.May(may[operation]...):
		return nil
	case caller.Role == auth.Public:
		return refusal.New("sign-in")
	}
	return refusal.New("not-allowed", "role", caller.Role)
}

// meetAllowed refuses callers whose key is for another meet.
func meetAllowed(caller auth.Caller, meet string) error {
	if caller.Meet == "" || meet == "" || caller.Meet == meet {
		return nil
	}
	return refusal.New("not-your-meet", "meet", caller.Meet)
}

// MayOrder says whether a caller may read what a bench has to do.
func MayOrder(caller auth.Caller, bench string) bool {
	return allowed(caller, "GetBenchOrder") == nil && benchAllowed(caller, bench) == nil
}

// benchAllowed refuses callers who may not act for a bench.
func benchAllowed(caller auth.Caller, bench string) error {
	if caller.MayUse(bench) {
		return nil
	}
	return refusal.New("not-your-bench", "bench", bench)
}
