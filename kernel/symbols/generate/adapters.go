package main

func writeAdapters(p *packages, out *output) error { return nil }
