package quantity

// The loops of this file take four at a time, which the processor does side by
// side. a and b are as long as out.

func addEach(out, a, b []float64) {
	a, b = a[:len(out)], b[:len(out)]
	i := 0
	for ; i+4 <= len(out); i += 4 {
		o, x, y := out[i:i+4:i+4], a[i:i+4:i+4], b[i:i+4:i+4]
		o[0], o[1], o[2], o[3] = x[0]+y[0], x[1]+y[1], x[2]+y[2], x[3]+y[3]
	}
	for ; i < len(out); i++ {
		out[i] = a[i] + b[i]
	}
}

func subtractEach(out, a, b []float64) {
	a, b = a[:len(out)], b[:len(out)]
	i := 0
	for ; i+4 <= len(out); i += 4 {
		o, x, y := out[i:i+4:i+4], a[i:i+4:i+4], b[i:i+4:i+4]
		o[0], o[1], o[2], o[3] = x[0]-y[0], x[1]-y[1], x[2]-y[2], x[3]-y[3]
	}
	for ; i < len(out); i++ {
		out[i] = a[i] - b[i]
	}
}

func multiplyEach(out, a, b []float64) {
	a, b = a[:len(out)], b[:len(out)]
	i := 0
	for ; i+4 <= len(out); i += 4 {
		o, x, y := out[i:i+4:i+4], a[i:i+4:i+4], b[i:i+4:i+4]
		o[0], o[1], o[2], o[3] = x[0]*y[0], x[1]*y[1], x[2]*y[2], x[3]*y[3]
	}
	for ; i < len(out); i++ {
		out[i] = a[i] * b[i]
	}
}
