package comminution

import (
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// CriticalSpeed is the speed of a tumbling mill at which a ball or rod at the shell no
// longer falls,
//
//	ω = √(2·g/(D − d))
//
// Units: diameters D (inside the liners) and d (of the media, may be 0) are lengths,
// gravity an acceleration; in rpm.
//
// Range: d below D; gravity above 0. On the Earth 42.3/√D with D in m; it goes as the
// root of gravity.
//
// Errors: quantities of another kind, not above 0, or media that fill the mill.
//
// Source: weight equals centrifugal force at the top; J.M. Coulson, J.F. Richardson,
// Chemical Engineering vol. 2, ch. 2.
func CriticalSpeed(diameter, media, gravity quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		w, err := critical(v[0], v[1], v[2])
		return quantity.Of(w*30/math.Pi, "rpm"), err
	}, diameter, media, gravity)
}

// critical is the critical speed in rad/s.
func critical(diameter, media, gravity quantity.Quantity) (float64, error) {
	d, err := positive(diameter, length, "diameter of the mill")
	if err != nil {
		return 0, err
	}
	ball, err := notNegative(media, length, "diameter of the media")
	if err != nil {
		return 0, err
	}
	g, err := positive(gravity, "m/s²", "gravity")
	if err != nil {
		return 0, err
	}
	if ball >= d {
		return 0, fmt.Errorf("comminution: media of %v do not tumble in a mill of %v", media, diameter)
	}
	return math.Sqrt(2 * g / (d - ball)), nil
}

// Tumbler is a tumbling mill and its charge, as its power depends on them.
type Tumbler struct {
	Diameter quantity.Quantity // inside the liners
	Length   quantity.Quantity
	Filling  quantity.Quantity // share of the volume that the charge at rest takes
	Speed    quantity.Quantity // share of the critical speed
	Charge   quantity.Quantity // bulk density of the charge with what fills its voids
	Lift     quantity.Quantity // angle of the charge's surface to the horizontal; left out: 35°
	Gravity  quantity.Quantity // left out: the Earth's
}

func (m Tumbler) inputs() []quantity.Quantity {
	return []quantity.Quantity{m.Diameter, m.Length, m.Filling, m.Speed, m.Charge, or(m.Lift, quantity.Of(35, "deg")), or(m.Gravity, earth)}
}

// tumbler is a Tumbler in numbers: speed in rad/s.
type tumbler struct{ diameter, length, filling, share, speed, charge, lift, gravity float64 }

func readTumbler(v []quantity.Quantity) (m tumbler, err error) {
	if m.speed, err = critical(v[0], quantity.Of(0, length), v[6]); err != nil {
		return m, err
	}
	m.diameter, m.gravity = v[0].SI(), v[6].SI()
	if m.length, err = positive(v[1], length, "length of the mill"); err != nil {
		return m, err
	}
	if m.filling, err = share(v[2], "filling"); err != nil {
		return m, err
	}
	if m.share, err = share(v[3], "share of the critical speed"); err != nil {
		return m, err
	}
	if m.charge, err = positive(v[4], "kg/m³", "density of the charge"); err != nil {
		return m, err
	}
	m.speed *= m.share
	degrees, err := v[5].Value("deg")
	if err != nil || !(degrees > 0 && degrees < 90) {
		return m, fmt.Errorf("comminution: the angle of lift lies between 0 and 90°, and %v does not", v[5])
	}
	m.lift = degrees * math.Pi / 180
	if m.filling == 0 || m.filling > 0.5 || m.share == 0 || m.share > 0.9 {
		return m, fmt.Errorf("comminution: the power of a tumbling mill is known for fillings up to 50 %% and speeds up to 90 %% of the critical; here %v and %v", v[2], v[3])
	}
	return m, nil
}

// Power is the power that it takes to hold the charge up against gravity while the
// mill turns, the charge being a segment of the circle whose surface is inclined,
//
//	P = ω·ρ·g·L·(2/3)·R³·sin³θ·sin α,  J = (θ − sin θ·cos θ)/π
//
// with J the filling and α the angle of lift.
//
// Units: as Tumbler; in kW.
//
// Range: fillings up to 50 %, speeds up to 90 % of the critical; the angle is what is
// known least. At a constant share of the critical speed power goes as gravity to 3/2.
// Losses of the drive are not in it.
//
// Errors: fields outside their range or of another kind.
//
// Source: statics of a segment; R. Hogg, D.W. Fuerstenau, Trans. SME-AIME 252 (1972) 418,
// for the use of it.
func (m Tumbler) Power() (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := readTumbler(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		low, high := 0.0, math.Pi
		for range 60 {
			if t := (low + high) / 2; (t-math.Sin(t)*math.Cos(t))/math.Pi < n.filling {
				low = t
			} else {
				high = t
			}
		}
		r, sine := n.diameter/2, math.Sin((low+high)/2)
		torque := n.charge * n.gravity * n.length * 2 / 3 * r * r * r * sine * sine * sine * math.Sin(n.lift)
		return quantity.Of(torque*n.speed, "W").To("kW"), nil
	}, m.inputs()...)
}

// BondPower is the power per mass of the media by Bond's formulas for wet overflow
// mills of medium size, in kW/t,
//
//	4.879·D^0.3·(3.2 − 3·J)·c·(1 − 0.1/2^(9 − 10·c))  (balls)
//	1.752·D^(1/3)·(6.3 − 5.4·J)·c  (rods)
//
// with D in m, J the filling and c the share of the critical speed.
//
// Units: as Tumbler; in kW/t.
//
// Range: on the Earth, D from 1 to 5 m, as their use; elsewhere multiplied by
// (g/g0)^(3/2), which follows from the dimensions of the problem and has not been
// measured. The correction for small balls in large mills is not in it.
//
// Errors: as Power; media that are none.
//
// Source: F.C. Bond (1961) in the metric form of C.A. Rowland; constants from memory.
func (m Tumbler) BondPower(media Media) (quantity.Quantity, error) {
	if media != Balls && media != Rods {
		return quantity.Quantity{}, fmt.Errorf("comminution: there are no %v", media)
	}
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		n, err := readTumbler(v)
		if err != nil {
			return quantity.Quantity{}, err
		}
		if n.diameter < 0.9 || n.diameter > 5.5 {
			return quantity.Quantity{}, fmt.Errorf("comminution: Bond's formulas for power hold for mills of 1 to 5 m, and %v is outside; use Power", v[0])
		}
		per := 4.879 * math.Pow(n.diameter, 0.3) * (3.2 - 3*n.filling) * n.share * (1 - 0.1/math.Exp2(9-10*n.share))
		if media == Rods {
			per = 1.752 * math.Cbrt(n.diameter) * (6.3 - 5.4*n.filling) * n.share
		}
		return quantity.Of(per*math.Pow(n.gravity/earth.SI(), 1.5), "kW/t"), nil
	}, m.inputs()...)
}

// Residence is the mean time that solids stay in a mill,
//
//	τ = M/F
//
// Units: hold-up M is a mass, feed F a mass flow, both of dry solids; in min.
//
// Range: steady running.
//
// Errors: quantities of another kind or not above 0.
//
// Source: the definition of mean residence time.
func Residence(holdUp, feed quantity.Quantity) (quantity.Quantity, error) {
	if _, err := positive(holdUp, "kg", "hold-up"); err != nil {
		return quantity.Quantity{}, err
	}
	if _, err := positive(feed, "kg/s", "feed"); err != nil {
		return quantity.Quantity{}, err
	}
	return holdUp.Div(feed).To("min"), nil
}

// HoldUp is the mass of dry solids in a mill whose slurry fills a share of the voids
// of its balls,
//
//	M = V·J·ε·U·ρ·c
//
// with voids ε = 40 %, U the share of them that is filled (1 for just full) and c the
// solids by volume.
//
// Units: volume of the mill; shares; density of the solids; in t.
//
// Range: U from 0.4 to 1.4; above 1 slurry lies above the balls.
//
// Errors: shares outside their range; a volume or density not above 0.
//
// Source: L.G. Austin, R.R. Klimpel, P.T. Luckie, Process Engineering of Size Reduction:
// Ball Milling (1984), for the definition of U; ε common practice.
func HoldUp(volume, filling, filled, density, solids quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		space, err := positive(v[0], "m³", "volume of the mill")
		if err != nil {
			return quantity.Quantity{}, err
		}
		j, err := share(v[1], "filling")
		if err != nil {
			return quantity.Quantity{}, err
		}
		u, err := positive(v[2], "1", "share of the voids filled")
		if err != nil || u < 0.4 || u > 1.4 {
			return quantity.Quantity{}, fmt.Errorf("comminution: the share of the voids filled is from 0.4 to 1.4, and %v is not", v[2])
		}
		heavy, err := positive(v[3], "kg/m³", "density of the solids")
		if err != nil {
			return quantity.Quantity{}, err
		}
		c, err := v[4].Value("vol%")
		if err != nil || !(c > 0 && c <= 100) {
			return quantity.Quantity{}, fmt.Errorf("comminution: solids by volume are above 0 up to 100 vol%%, and %v is not", v[4])
		}
		return quantity.Of(space*j*0.4*u*heavy*c/100, "kg").To("t"), nil
	}, volume, filling, filled, density, solids)
}
