package measure

import "math"

// The physics of this file are for teaching and for the report of a run. None
// of it enters a result. A roller sees the speed of its own surface and nothing
// else: not the slip of the wheel, not the drag of the air, and not the mass of
// the car, which a bench does not accelerate.

// RadPerSecond turns revolutions a minute into radians a second.
func RadPerSecond(rpm float64) float64 { return rpm * 2 * math.Pi / 60 }

// SurfaceSpeed returns the speed in m/s of the surface of something round, of a
// diameter in mm, at rpm.
func SurfaceSpeed(diameterMM, rpm float64) float64 { return math.Pi * diameterMM / 1000 * rpm / 60 }

// AxleRPM returns the speed of an axle behind gears of a ratio (motor turns for
// one turn of the axle).
func AxleRPM(motorRPM, ratio float64) float64 { return motorRPM / ratio }

// DrivenRPM returns the speed at which a wheel turns a roller, or a roller a
// wheel, if there is no slip: surfaces that touch have one speed.
func DrivenRPM(rpm, diameterMM, drivenMM float64) float64 { return rpm * diameterMM / drivenMM }

// SolidCylinder returns the moment of inertia in kg m² of a solid cylinder about
// its axis, of a mass in kg and a radius in m.
func SolidCylinder(mass, radius float64) float64 { return mass * radius * radius / 2 }

// Tube returns the moment of inertia in kg m² of a tube about its axis: its wall
// lies between the inner and the outer radius in m; equal ones are a thin wall.
func Tube(mass, inner, outer float64) float64 { return mass * (inner*inner + outer*outer) / 2 }

// Energy returns the energy of rotation in J at a speed in rad/s.
func Energy(inertia, omega float64) float64 { return inertia * omega * omega / 2 }

// Power returns the power in W that speeds something up: its inertia in kg m²,
// its angular acceleration in rad/s², its speed in rad/s. Of a car on rollers
// it is the part that accelerates them; what friction takes comes on top.
func Power(inertia, alpha, omega float64) float64 { return inertia * alpha * omega }

// EquivalentMass returns the mass in kg that is as hard to move as a roller of
// an inertia and a radius in m is to turn.
func EquivalentMass(inertia, radius float64) float64 { return inertia / (radius * radius) }

// Resolution returns how finely a frequency in Hz is known from its periods with
// a clock in Hz, as parts of it: from one period, and from all the whole periods
// within a gate in s (reciprocal counting, which the live speed uses; it gets
// better with time, not with speed). Counting passes in the gate would know it
// to 1/(frequency times gate) only.
func Resolution(hz, gateS, clockHz float64) (single, reciprocal float64, periods int) {
	periods = int(hz*gateS + 1e-9)
	single = hz / clockHz
	if periods < 1 {
		return single, single, 0
	}
	return single, hz / (clockHz * float64(periods)), periods
}
