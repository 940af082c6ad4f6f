// Package storetest is the one suite that every store must pass, with a dumb
// model to compare with and the benchmarks.
//
// It is for tests only. A package of a store calls Run once for its database;
// what the suite asks is the meaning of the comments in package store, so a
// change begins here.
package storetest
