// Package view turns states into what the API shows: the same for a read by REST
// and for a frame of the live feed.
//
// It is where ids become start numbers and nicknames. A nickname is shown only
// where the guardian agreed and the person was not erased; otherwise the start
// number stands for it. Units change here from the log's integers to metres and
// seconds. The package computes and encodes; it reads no database but the people
// that a Directory fetches.
package view
