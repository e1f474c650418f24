// Package mineral is about what materials are made of: elements and their
// atomic weights, formulas of minerals, compositions by mass, and what one can
// learn from them by arithmetic.
//
// What goes in: formulas as they are printed, assays as shares of mass, and
// mineral names. What comes out: a Formula with its molar mass and composition;
// factors between elements, oxides and minerals; a Mineral with its density,
// hardness and magnetic and electric behaviour, each figure with its spread and
// source; the mineral Proportions behind an assay with what they leave
// unexplained; the Blend of materials that comes nearest to a wanted one; and a
// Deportment, which says how an element is spread over its carriers.
//
// It never rescales: an assay that does not add up to 100 % stays as it is, and
// Composition.CheckTotal says so. It never takes a share of volume for a share of
// mass, and it has no figure where there is no source for one.
//
// Shares are of mass, shown in % unless they came in another unit. Read Formula
// first, then Composition.
package mineral
