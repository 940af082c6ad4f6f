package club

import (
	"fmt"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

const maxCarNumber = 9999

// RegisterCar makes a car known by the number on it, or changes what is known.
type RegisterCar struct {
	Car Car
}

// CarRegistered says what is known of a car.
type CarRegistered struct {
	Car Car `json:"car"`
}

func (c RegisterCar) decide(s *State, _ meet.Meta) ([]Event, error) {
	if err := day.CheckID("car", string(c.Car.ID)); err != nil {
		return nil, err
	}
	if c.Car.Number < 1 || c.Car.Number > maxCarNumber {
		return nil, refusal.New("car-number", "number", c.Car.Number, "most", maxCarNumber)
	}
	if c.Car.WheelUM < 0 || c.Car.WheelUM > 1_000_000 {
		return nil, refusal.New("car-wheel")
	}
	if other, taken := s.Numbers.Get(c.Car.Number); taken && other != c.Car.ID {
		return nil, refusal.New("car-taken", "number", c.Car.Number, "car", other)
	}
	if s.Cars.At(c.Car.ID) == c.Car {
		return nil, nil
	}
	return []Event{CarRegistered(c)}, nil
}

// Type is the name in the log.
func (CarRegistered) Type() string { return "CarRegistered" }

func (e CarRegistered) apply(s *State) {
	if old, there := s.Cars.Get(e.Car.ID); there {
		s.Numbers = s.Numbers.WithoutBy(s.owner, old.Number)
	}
	s.Cars = s.Cars.WithBy(s.owner, e.Car.ID, e.Car)
	s.Numbers = s.Numbers.WithBy(s.owner, e.Car.Number, e.Car.ID)
}

// numbered is the car that has a number, with the event that registers it where nobody
// has.
func numbered(s *State, number int, m meet.Meta) (day.CarID, []Event, error) {
	if car, known := s.Numbers.Get(number); known {
		return car, nil, nil
	}
	car := day.CarID(fmt.Sprintf("car-%d", number))
	for n := s.Seq + 1; s.hasCar(car); n++ { // a car that has another number by now
		car = day.CarID(fmt.Sprintf("car-%d-%d", number, n))
	}
	made, err := RegisterCar{Car{ID: car, Number: number}}.decide(s, m)
	return car, made, err
}

func (s *State) hasCar(id day.CarID) bool {
	_, there := s.Cars.Get(id)
	return there
}
