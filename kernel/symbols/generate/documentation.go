package main

func writeDocumentation(p *packages, out *output) error { return nil }
