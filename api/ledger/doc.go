// Package ledger runs commands against the streams of a store: it is the shell
// around the pure deciders.
//
// Each stream has one writer a process, a goroutine that runs while commands come
// in. It takes those that wait, and for all of them together opens one
// transaction under the stream's lock, catches up with what other processes
// wrote, looks for remembered answers, decides, appends and commits. Only then
// does it swap the state, answer and tell the watchers. If anything fails, nothing was kept and
// the state is as before; the commands are then tried one by one, so that one
// bad command fails alone.
//
// States are handed out as they are and must not be changed by readers; the
// writer works on a clone. Streams are loaded when first asked for, the next
// records being read while the last are folded, and leave memory when nobody asks
// any more. The state of a stream without an end is kept between two starts, and
// so are summaries of all: both are caches, judged before they are believed.
package ledger
