package main

import "testing"

func TestExampleOf(t *testing.T) {
	for name, want := range map[string]string{
		"": "", "Bond": "Bond", "Duty_Factors": "Duty.Factors", "Bond_fine": "Bond", "Duty_Factors_rods": "Duty.Factors", "_twoBodies": "",
	} {
		if got := exampleOf(name); got != want {
			t.Errorf("Example%s is about %q, want %q", name, got, want)
		}
	}
}
