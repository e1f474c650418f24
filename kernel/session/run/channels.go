package run

import (
	"go/types"
	"reflect"
	"unsafe"

	"golang.org/x/tools/go/ssa"
)

func (c *compiler) makeChan(in *ssa.MakeChan, d uintptr) op {
	t, pos := c.chanLayout(in.Type()), int64(in.Pos())
	size := c.bound(in.Size)
	limit := largest
	if s := int(t.Elem().Size()); s > 0 {
		limit = largest / s
	}
	return func(fp pointer) {
		head(fp).pos = pos
		n := size.value(fp, 0)
		if n < 0 || n > limit {
			panic(runtimeError("makechan: size out of range"))
		}
		room(n, int(t.Elem().Size()))
		*at[pointer](fp, d) = reflect.MakeChan(t, n).UnsafePointer()
	}
}

func channelAt(t reflect.Type, fp pointer, a uintptr) reflect.Value {
	return reflect.NewAt(t, unsafe.Add(fp, a)).Elem()
}

func wakes(fp pointer) reflect.SelectCase {
	return reflect.SelectCase{Dir: reflect.SelectRecv, Chan: reflect.ValueOf(head(fp).g.run.wake)}
}

func (c *compiler) send(in *ssa.Send) op {
	t, pos := c.chanLayout(in.Chan.Type()), int64(in.Pos())
	a, v := c.offset(in.Chan), c.offset(in.X)
	return func(fp pointer) {
		head(fp).pos = pos
		ch := channelAt(t, fp, a)
		value := reflect.NewAt(t.Elem(), unsafe.Add(fp, v)).Elem()
		if !ch.IsNil() && ch.TrySend(value) {
			return
		}
		cases := []reflect.SelectCase{{Dir: reflect.SelectSend, Chan: ch, Send: value}, wakes(fp)}
		if i, _, _ := reflect.Select(cases); i == 1 {
			panic(ErrInterrupted)
		}
	}
}

func (c *compiler) receive(in *ssa.UnOp, d, a uintptr) op {
	t, pos := c.chanLayout(in.X.Type()), int64(in.Pos())
	value, okAt := d, uintptr(0)
	if in.CommaOk {
		o := c.tuple(in)
		value, okAt = o[0], o[1]
	}
	zero := zeroOf(t.Elem())
	return func(fp pointer) {
		head(fp).pos = pos
		v, ok := receiveFrom(fp, channelAt(t, fp, a))
		if ok {
			reflect.NewAt(t.Elem(), unsafe.Add(fp, value)).Elem().Set(v)
		} else {
			zero(unsafe.Add(fp, value))
		}
		if okAt != 0 {
			*at[bool](fp, okAt) = ok
		}
	}
}

func receiveFrom(fp pointer, ch reflect.Value) (v reflect.Value, ok bool) {
	if !ch.IsNil() {
		if v, ok = ch.TryRecv(); v.IsValid() {
			return v, ok
		}
	}
	i, v, ok := reflect.Select([]reflect.SelectCase{{Dir: reflect.SelectRecv, Chan: ch}, wakes(fp)})
	if i == 1 {
		panic(ErrInterrupted)
	}
	return v, ok
}

type selectState struct {
	t       reflect.Type
	channel uintptr
	send    bool
	value   uintptr // what is sent, or where what is received goes
	zero    func(pointer)
}

func (c *compiler) selects(in *ssa.Select) op {
	o, pos := c.tuple(in), int64(in.Pos())
	var states []selectState
	n := 2
	for _, s := range in.States {
		st := selectState{t: c.chanLayout(s.Chan.Type()), channel: c.offset(s.Chan), send: s.Dir == types.SendOnly}
		if st.send {
			st.value = c.offset(s.Send)
		} else {
			st.value, st.zero = o[n], zeroOf(st.t.Elem())
			n++
		}
		states = append(states, st)
	}
	blocking := in.Blocking
	return func(fp pointer) {
		head(fp).pos = pos
		cases := make([]reflect.SelectCase, 0, len(states)+1)
		for _, s := range states {
			cases = append(cases, s.selectCase(fp))
		}
		if blocking {
			cases = append(cases, wakes(fp))
		} else {
			cases = append(cases, reflect.SelectCase{Dir: reflect.SelectDefault})
		}
		i, v, ok := reflect.Select(cases)
		if i == len(states) {
			if blocking {
				panic(ErrInterrupted)
			}
			i = -1
		}
		*at[int](fp, o[0]), *at[bool](fp, o[1]) = i, ok
		for j, s := range states {
			s.received(fp, v, j == i && ok)
		}
	}
}

func (s selectState) selectCase(fp pointer) reflect.SelectCase {
	k := reflect.SelectCase{Dir: reflect.SelectRecv, Chan: channelAt(s.t, fp, s.channel)}
	if s.send {
		k.Dir, k.Send = reflect.SelectSend, reflect.NewAt(s.t.Elem(), unsafe.Add(fp, s.value)).Elem()
	}
	return k
}

func (s selectState) received(fp pointer, v reflect.Value, here bool) {
	switch {
	case s.send:
	case here:
		reflect.NewAt(s.t.Elem(), unsafe.Add(fp, s.value)).Elem().Set(v)
	default:
		s.zero(unsafe.Add(fp, s.value))
	}
}
