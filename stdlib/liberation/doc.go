// Package liberation is about how breaking frees the grains of a mineral from what
// holds them: which share of it is in free particles at each size, how the rest is
// locked, and what becomes of a stream's classes of composition when its particles get
// finer.
//
// What goes in: a Texture, the size of the grains and the share of the mineral by
// volume; sizes of particles; streams. What comes out: free shares, the Grades of
// particles of a size, curves over size, the size at which enough is free, and, from
// the unit operation Liberator, a stream whose particles have the compositions that
// their sizes allow.
//
// The models know nothing of the history of a particle and break grains as readily as
// their borders: what parts along the borders frees more, and package comminution has
// Releases for that. Metal that flattens instead of breaking is there too, as Malleable,
// with what a change of shape does to the size that passes a sieve. Volume and mass are
// never taken for each other: textures speak of volume, streams of mass.
//
// Uncertain quantities give uncertain results, except in streams.
//
// Read Texture first, then Liberator.
package liberation
