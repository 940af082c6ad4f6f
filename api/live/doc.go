// Package live pushes what changes to screens and phones over WebSocket.
//
// A listener asks for topics (the call board, the standings of a division, a
// bench, ...). A topic is sent whole when it changed, encoded once for all
// listeners. Each connection has one slot a topic that holds only the newest
// frame: a slow listener skips frames and never holds up the others or the
// venue. To resume is to connect again: the current topics are sent whole.
//
// Live speed travels the same way and is telemetry: it has no position in the
// log and any of it may be dropped.
package live
