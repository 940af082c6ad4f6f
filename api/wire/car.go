package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// ShowCar shows a car.
func ShowCar(c club.Car) gen.Car {
	return gen.Car{Id: string(c.ID), Number: c.Number, WheelMm: Opt(Thousandths(c.WheelUM)), Reference: Opt(c.Reference)}
}

// ReadCar reads a car.
func ReadCar(id string, b gen.CarBody) club.Car {
	return club.Car{ID: day.CarID(id), Number: b.Number, WheelUM: Thousands(Deref(b.WheelMm)), Reference: Deref(b.Reference)}
}
