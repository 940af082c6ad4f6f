// Package matching finds a matching of greatest weight in a general graph, exactly and in whole numbers.
//
// A matching is a set of edges no two of which share a vertex. [Solve] takes one number for each edge,
// [SolveVectors] several, the first of which matters most (lexicographic order): so a caller who has an order of
// criteria need not squeeze them into one number. [Prove] and [ProveVectors] also hand back a [Certificate], with
// which anybody can check that there is no better matching without trusting the search.
//
// # Method
//
// It is the blossom method of J. Edmonds, "Maximum matching and a polyhedron with 0,1-vertices", Journal of
// Research of the National Bureau of Standards 69B (1965), in the dense O(n^3) form that goes back to H. N. Gabow
// and is described by Z. Galil, "Efficient algorithms for finding maximum matching in graphs", ACM Computing
// Surveys 18 (1986), whose labels S and T are kept. It differs from Galil's text in three things. One tree is grown
// at a time, from one free vertex, as in the shortest augmenting paths of the assignment problem; the duals are
// settled once at the end of a stage and until then kept as offsets from the sum of all delta; and every S-blossom
// keeps its best edge to each vertex in one row of an array, so that a step is a pass over a row.
//
// A stage of the search takes O(n^2) steps and there are at most n of them, whatever the weights: O(n^3) time, and
// memory for n^2 weights.
//
// # What may be relied on
//
// The total weight (and with maxCardinality the number of pairs) is unique. Where several matchings reach it, the
// one returned is only repeatable: the same graph gives the same matching on every platform, in whatever order its
// edges are listed, but a later version may choose another. Nothing depends on chance, a map or the clock.
//
// All arithmetic is in int64. Weights so large that a sum could overflow are refused with an error and never give a
// wrong answer. Each call keeps its own state, so calls may run at the same time.
package matching
