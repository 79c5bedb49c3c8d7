// Package tidy writes the tables of a season: kept reps, reps set aside and
// sets, each as Parquet and as CSV, and unread.csv.
//
// The steps are the same for every table:
//
//  1. A row type names the columns, in file order, with their Parquet and CSV
//     tags; files are read back by it. A test holds the row types to the column
//     tables of package rep.
//  2. Each column has a source that gives its values from the shared column
//     store, many rows at a time, in the order that is asked for.
//  3. Parquet (package columnar) takes values as they are: DATE,
//     TIMESTAMP(MILLIS, UTC), nulls are nulls. CSV follows RFC 4180; dates are
//     ISO 8601, moments RFC 3339, numbers have as few digits as read back
//     exactly, lists are joined by "; ", and texts that a spreadsheet would run
//     are defused ([Defuse]).
//
// No clock and no map order gets into a file: the same tables give the same
// bytes.
package tidy

import (
	"strconv"

	"repsift/ingest/rep"
)

// Rep is one row of reps.parquet and reps.csv. An empty text in an optional
// column is null.
type Rep struct {
	ID                 string       `parquet:"rep_id" csv:"rep_id"`
	Lifter             Text         `parquet:"lifter,dict" csv:"lifter"`
	Date               rep.Day      `parquet:"session_date,date,dict" csv:"session_date"`
	PerformedAt        *rep.Instant `parquet:"performed_at,optional,timestamp(millisecond:utc),dict" csv:"performed_at"`
	Session            int32        `parquet:"session,dict" csv:"session"`
	Lift               Text         `parquet:"lift,dict" csv:"lift"`
	Variant            Text         `parquet:"variant,optional,dict" csv:"variant"`
	Bar                Text         `parquet:"bar,optional,dict" csv:"bar"`
	Tether             Text         `parquet:"tether,optional,dict" csv:"tether"`
	Load               float64      `parquet:"load_kg,dict" csv:"load_kg"`
	Set                int32        `parquet:"set,dict" csv:"set"`
	Number             int32        `parquet:"rep,dict" csv:"rep"`
	NumberRecorded     *int32       `parquet:"rep_recorded,optional,dict" csv:"rep_recorded"`
	MeanVelocity       float64      `parquet:"mean_velocity_m_s,dict" csv:"mean_velocity_m_s"`
	PeakVelocity       *float64     `parquet:"peak_velocity_m_s,optional,dict" csv:"peak_velocity_m_s"`
	ROM                *float64     `parquet:"rom_m,optional,dict" csv:"rom_m"`
	Concentric         *float64     `parquet:"concentric_s,optional,dict" csv:"concentric_s"`
	RPE                *float64     `parquet:"rpe,optional,dict" csv:"rpe"`
	RPEFrom            string       `parquet:"rpe_from,optional,dict" csv:"rpe_from"`
	Missed             bool         `parquet:"missed" csv:"missed"`
	Role               string       `parquet:"set_role,dict" csv:"set_role"`
	Device             Text         `parquet:"device,optional,dict" csv:"device"`
	Flags              List         `parquet:"flags,list" csv:"flags"`
	LoadRecorded       *float64     `parquet:"load_recorded_kg,optional,dict" csv:"load_recorded_kg"`
	MeanRecorded       *float64     `parquet:"mean_velocity_recorded_m_s,optional,dict" csv:"mean_velocity_recorded_m_s"`
	ROMRecorded        *float64     `parquet:"rom_recorded_m,optional,dict" csv:"rom_recorded_m"`
	ConcentricRecorded *float64     `parquet:"concentric_recorded_s,optional,dict" csv:"concentric_recorded_s"`
	Source             Text         `parquet:"source,dict" csv:"source"`
	Sheet              Text         `parquet:"sheet,optional,dict" csv:"sheet"`
	Row                int32        `parquet:"row,dict" csv:"row"`
	MeanPropulsive     *float64     `parquet:"mean_propulsive_velocity_m_s,optional,dict" csv:"mean_propulsive_velocity_m_s"`
	Sticking           *float64     `parquet:"sticking_velocity_m_s,optional,dict" csv:"sticking_velocity_m_s"`
	TimeToPeak         *float64     `parquet:"time_to_peak_s,optional,dict" csv:"time_to_peak_s"`
	Eccentric          *float64     `parquet:"eccentric_s,optional,dict" csv:"eccentric_s"`
}

// Aside is one row of set_aside.parquet and set_aside.csv: the columns of
// [Rep], numbering null, and why the rep was set aside.
type Aside struct {
	ID                 string       `parquet:"rep_id" csv:"rep_id"`
	Lifter             Text         `parquet:"lifter,dict" csv:"lifter"`
	Date               rep.Day      `parquet:"session_date,date,dict" csv:"session_date"`
	PerformedAt        *rep.Instant `parquet:"performed_at,optional,timestamp(millisecond:utc),dict" csv:"performed_at"`
	Session            *int32       `parquet:"session,optional,dict" csv:"session"`
	Lift               Text         `parquet:"lift,dict" csv:"lift"`
	Variant            Text         `parquet:"variant,optional,dict" csv:"variant"`
	Bar                Text         `parquet:"bar,optional,dict" csv:"bar"`
	Tether             Text         `parquet:"tether,optional,dict" csv:"tether"`
	Load               float64      `parquet:"load_kg,dict" csv:"load_kg"`
	Set                *int32       `parquet:"set,optional,dict" csv:"set"`
	Number             *int32       `parquet:"rep,optional,dict" csv:"rep"`
	NumberRecorded     *int32       `parquet:"rep_recorded,optional,dict" csv:"rep_recorded"`
	MeanVelocity       float64      `parquet:"mean_velocity_m_s,dict" csv:"mean_velocity_m_s"`
	PeakVelocity       *float64     `parquet:"peak_velocity_m_s,optional,dict" csv:"peak_velocity_m_s"`
	ROM                *float64     `parquet:"rom_m,optional,dict" csv:"rom_m"`
	Concentric         *float64     `parquet:"concentric_s,optional,dict" csv:"concentric_s"`
	RPE                *float64     `parquet:"rpe,optional,dict" csv:"rpe"`
	RPEFrom            string       `parquet:"rpe_from,optional,dict" csv:"rpe_from"`
	Missed             bool         `parquet:"missed" csv:"missed"`
	Role               string       `parquet:"set_role,optional,dict" csv:"set_role"`
	Device             Text         `parquet:"device,optional,dict" csv:"device"`
	Flags              List         `parquet:"flags,list" csv:"flags"`
	LoadRecorded       *float64     `parquet:"load_recorded_kg,optional,dict" csv:"load_recorded_kg"`
	MeanRecorded       *float64     `parquet:"mean_velocity_recorded_m_s,optional,dict" csv:"mean_velocity_recorded_m_s"`
	ROMRecorded        *float64     `parquet:"rom_recorded_m,optional,dict" csv:"rom_recorded_m"`
	ConcentricRecorded *float64     `parquet:"concentric_recorded_s,optional,dict" csv:"concentric_recorded_s"`
	Source             Text         `parquet:"source,dict" csv:"source"`
	Sheet              Text         `parquet:"sheet,optional,dict" csv:"sheet"`
	Row                int32        `parquet:"row,dict" csv:"row"`
	MeanPropulsive     *float64     `parquet:"mean_propulsive_velocity_m_s,optional,dict" csv:"mean_propulsive_velocity_m_s"`
	Sticking           *float64     `parquet:"sticking_velocity_m_s,optional,dict" csv:"sticking_velocity_m_s"`
	TimeToPeak         *float64     `parquet:"time_to_peak_s,optional,dict" csv:"time_to_peak_s"`
	Eccentric          *float64     `parquet:"eccentric_s,optional,dict" csv:"eccentric_s"`
	Filter             string       `parquet:"filter,dict" csv:"filter"`
	Reason             Text         `parquet:"reason,dict" csv:"reason"`
	Measured           *float64     `parquet:"measured,optional,dict" csv:"measured"`
	Limit              *float64     `parquet:"limit,optional,dict" csv:"limit"`
}

// Set is one row of sets.parquet and sets.csv.
type Set struct {
	Lifter        Text         `parquet:"lifter,dict" csv:"lifter"`
	Date          rep.Day      `parquet:"session_date,date,dict" csv:"session_date"`
	Session       int32        `parquet:"session,dict" csv:"session"`
	PerformedAt   *rep.Instant `parquet:"performed_at,optional,timestamp(millisecond:utc),dict" csv:"performed_at"`
	Lift          Text         `parquet:"lift,dict" csv:"lift"`
	Variant       Text         `parquet:"variant,optional,dict" csv:"variant"`
	Bar           Text         `parquet:"bar,optional,dict" csv:"bar"`
	Tether        Text         `parquet:"tether,optional,dict" csv:"tether"`
	Load          *float64     `parquet:"load_kg,optional,dict" csv:"load_kg"`
	Number        *int32       `parquet:"set,optional,dict" csv:"set"`
	Role          string       `parquet:"set_role,optional,dict" csv:"set_role"`
	Reps          int32        `parquet:"reps,dict" csv:"reps"`
	Missed        int32        `parquet:"reps_missed,dict" csv:"reps_missed"`
	SetAside      int32        `parquet:"reps_set_aside,dict" csv:"reps_set_aside"`
	First         *float64     `parquet:"first_m_s,optional,dict" csv:"first_m_s"`
	Fastest       *float64     `parquet:"fastest_m_s,optional,dict" csv:"fastest_m_s"`
	Last          *float64     `parquet:"last_m_s,optional,dict" csv:"last_m_s"`
	Slowest       *float64     `parquet:"slowest_m_s,optional,dict" csv:"slowest_m_s"`
	Loss          *float64     `parquet:"velocity_loss,optional,dict" csv:"velocity_loss"`
	RPE           *float64     `parquet:"rpe,optional,dict" csv:"rpe"`
	RPEFrom       string       `parquet:"rpe_from,optional,dict" csv:"rpe_from"`
	Device        Text         `parquet:"device,optional,dict" csv:"device"`
	Logged        bool         `parquet:"logged" csv:"logged"`
	LoggedLoad    *float64     `parquet:"logged_load_kg,optional,dict" csv:"logged_load_kg"`
	LoggedReps    *int32       `parquet:"logged_reps,optional,dict" csv:"logged_reps"`
	LoggedRPE     *float64     `parquet:"logged_rpe,optional,dict" csv:"logged_rpe"`
	LoggedRPEHigh *float64     `parquet:"logged_rpe_high,optional,dict" csv:"logged_rpe_high"`
	LoggedFirst   *float64     `parquet:"logged_first_m_s,optional,dict" csv:"logged_first_m_s"`
	LoggedFastest *float64     `parquet:"logged_fastest_m_s,optional,dict" csv:"logged_fastest_m_s"`
	LoggedLast    *float64     `parquet:"logged_last_m_s,optional,dict" csv:"logged_last_m_s"`
	LoggedSlowest *float64     `parquet:"logged_slowest_m_s,optional,dict" csv:"logged_slowest_m_s"`
	LoggedMean    *float64     `parquet:"logged_mean_m_s,optional,dict" csv:"logged_mean_m_s"`
	LoggedText    Text         `parquet:"logged_text,optional,dict" csv:"logged_text"`
	LogSource     Text         `parquet:"log_source,optional,dict" csv:"log_source"`
	LogSheet      Text         `parquet:"log_sheet,optional,dict" csv:"log_sheet"`
	LogRow        *int32       `parquet:"log_row,optional,dict" csv:"log_row"`
	Source        Text         `parquet:"source,dict" csv:"source"`
	Sheet         Text         `parquet:"sheet,optional,dict" csv:"sheet"`
	Row           int32        `parquet:"row,dict" csv:"row"`
}

// Unread is one row of unread.csv. There is no Parquet of it: it is for people.
type Unread struct {
	Lost    string `csv:"lost"`
	Source  Text   `csv:"source"`
	Sheet   Text   `csv:"sheet"`
	Row     *int32 `csv:"row"`
	Column  Text   `csv:"column"`
	Text    Text   `csv:"text"`
	Problem Text   `csv:"problem"`
}

// ID returns a rep_id as written: 16 hex digits.
func ID(id uint64) string {
	const width = 16
	digits := strconv.FormatUint(id, 16)
	return "0000000000000000"[:width-len(digits)] + digits
}

// unreadOf returns a loss as a row of unread.csv.
func unreadOf(u *rep.Unread) Unread {
	row := Unread{Lost: u.Lost.String(), Source: Text(u.Source), Sheet: Text(u.Sheet), Column: Text(u.Column),
		Text: Text(u.Text), Problem: Text(u.Problem)}
	if u.Row > 0 {
		row.Row = &u.Row
	}
	return row
}
