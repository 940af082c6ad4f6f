package day

// Division is an age band crossed with a car class; it has its own programme
// and its own standings.
type Division struct {
	ID      DivisionID `json:"id"`
	Name    string     `json:"name"`
	AgeFrom int        `json:"age_from"` // whole years at the meet's age date
	AgeTo   int        `json:"age_to"`   // inclusive; 0 is no limit
	Class   CarClass   `json:"class"`
	Stages  []Stage    `json:"stages"`
}

// CarClass is what every car of a division must be.
type CarClass struct {
	Name     string `json:"name"`
	WheelUM  int64  `json:"wheel_um,omitempty"`   // usual wheel diameter, for wheel rpm
	LapUM    int64  `json:"lap_um"`               // length that is shown as one lap
	Release  string `json:"release,omitempty"`    // how cars are released at the start
	Cells    int    `json:"cells,omitempty"`      // 0 to 20; 0 is not said
	MassMaxG int    `json:"mass_max_g,omitempty"` // 0 to 10 kg, in g; 0 is no limit
	// Battery is what a pack has to show; nil where the class asks for nothing.
	Battery *ClassBattery `json:"battery,omitempty"`
	// Checklist is what an inspector looks at, in order.
	Checklist []CheckItem `json:"checklist,omitempty"`
	// Incidents are what this class has otherwise than the meet.
	Incidents []IncidentRule `json:"incidents,omitempty"`
}
