package rest

import (
	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/domain/refusal"
)

// Who may do what, by the contract's operation. What is missing here nobody may
// do; a test holds the table complete.
var (
	anybody    = []auth.Role{auth.Organiser, auth.Official, auth.Bench, auth.Node, auth.Public}
	signedIn   = []auth.Role{auth.Organiser, auth.Official, auth.Bench, auth.Node}
	atBench    = signedIn // and the bench must be theirs, see MayUse
	officials  = []auth.Role{auth.Organiser, auth.Official}
	organisers = []auth.Role{auth.Organiser}

	may = map[string][]auth.Role{
		"GetAbout": anybody, "GetSession": anybody, "SignIn": anybody, "SignOut": anybody,
		"ListMeets": anybody, "GetMeet": anybody, "GetBoard": anybody, "GetStandings": anybody,
		"GetBracket": anybody, "ListEntries": anybody, "GetCarDay": anybody, "ListHeats": anybody, "ListRuns": anybody,
		"GetStandingsTable": anybody, "GetTrace": anybody, "GetCurve": anybody, "GetRunDifference": anybody, "GetLog": anybody,
		"ListPractice": anybody,

		"ListBenches": signedIn, "ListCars": signedIn,
		"GetBenchOrder": atBench, "PostChunk": atBench, "ArmPractice": atBench, "ConfirmReady": atBench,
		"TakeReadyBack": atBench, "WantOfficial": atBench,
		"RecordHandCount": atBench, "AskRerun": atBench, "PutCar": signedIn, "LodgeProtest": signedIn,

		"ListPeople": officials, "ListDecisions": officials, "ListRulings": officials, "ListProtests": officials,
		"TakeEntry": officials, "LookEntryTable": officials, "TakeEntryTable": officials,
		"ChangeEntry": officials, "CheckIn": officials, "PutPerson": officials,
		"CallHeat": officials, "CallOff": officials, "MoveLane": officials, "LeaveLane": officials, "StartHeat": officials,
		"MakeRuling": officials, "RuleProtest": officials, "PauseMeet": officials, "ResumeMeet": officials,
		"SetBenchService": officials, "CloseRound": officials, "DrawRound": officials,
		"GetSeedOrder": officials, "ListRatings": officials, "SeedDivision": officials, "PreviewSeeds": officials,

		"GetBenchComparison": anybody, "BeginReferenceCheck": officials, "DropReferenceRun": officials,
		"AdoptFactors": officials, "WithdrawFactors": officials,
		"GetInspectorTable": officials, "GetUsualTable": officials, "CheckBattery": officials, "AddPacks": officials,
		"IssuePack": officials, "ReturnPack": officials, "PutPackBack": officials, "DealPacks": officials,
		"InspectCar": officials, "LapseInspection": officials,

		"ListTokens": organisers, "MakeToken": organisers, "RevokeToken": organisers,
		"ErasePerson": organisers, "EraseText": organisers, "PutBench": organisers, "RetireBench": organisers,
		"GetEntryTable": organisers, "PlanMeet": organisers, "PutPlan": organisers, "PutRules": organisers, "AddMeetBench": organisers,
		"LookMeasuredAgain": officials, "MeasureAgain": organisers, "PutDivision": organisers,
		"ListPutAway": organisers, "PutAway": organisers, "BringBack": organisers,
		"MergeDivisions": organisers, "SplitDivision": organisers,
		"CloseEntries": organisers, "DrawAgain": organisers, "LetDrawStand": organisers, "PublishResults": organisers, "EndProgramme": organisers,
	}
)

// authorise refuses callers whose role may not do an operation.
func authorise(next gen.StrictHandlerFunc, operation string) gen.StrictHandlerFunc {
	return func(c echo.Context, request any) (any, error) {
		if err := allowed(Caller(c.Request().Context()), operation); err != nil {
			return nil, err
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

// benchAllowed refuses callers who may not act for a bench.
func benchAllowed(caller auth.Caller, bench string) error {
	if caller.MayUse(bench) {
		return nil
	}
	return refusal.New("not-your-bench", "bench", bench)
}
