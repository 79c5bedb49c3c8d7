// Package score measures how well exports are recognised: its test writes
// exports of random shape, heading language, units, date style, decimal mark,
// delimiter, encoding, preamble and footer, reads them with package ingest, and
// counts how many were read exactly right, asked about, and read wrong. The
// words that the exports are written with are the package's own; it shares no
// table with what recognises them.
//
//	go test ./ingest/score -v              the figures of 300 exports
//	go test ./ingest/score -v -score 5000  of 5000
package score
