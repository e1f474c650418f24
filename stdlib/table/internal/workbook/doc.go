// Package workbook reads and writes the cells of Excel workbooks (.xlsx), over a
// library of others.
//
// In go a path and the name of a sheet, out come cells: their text, their number as
// stored, and what kind they are. It knows nothing of headers and units, and keeps
// the library's types to itself, so that whoever imports package table does not get
// them too.
//
// Read Read first.
package workbook
