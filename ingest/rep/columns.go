package rep

// Type is the type of a column in every tidy file.
type Type uint8

// The types a column can have.
const (
	String    Type = iota
	Date           // Parquet DATE
	Timestamp      // Parquet TIMESTAMP(MILLIS, UTC)
	Int32
	Float64
	Bool
	StringList
)

// Column describes one column of a tidy file.
type Column struct {
	Name    string
	Type    Type
	Null    bool   // may be missing
	Unit    string // empty for none
	Meaning string // one sentence
}

// Columns lists the columns of reps, in file order. Files, headings, codebook
// and data package are drawn from it.
var Columns = []Column{
	{"rep_id", String, false, "", "Name of the rep, 16 hex digits, made from the source's content, sheet, row and rep position; the same on every run."},
	{"lifter", String, false, "", "Name of the lifter: as the season file has it, else as written."},
	{"session_date", Date, false, "", "Local calendar day of the session."},
	{"performed_at", Timestamp, true, "", "Start of the rep, or of its set, in UTC, where the source has a time."},
	{"session", Int32, false, "", "Number of the session, 1, 2, … per lifter by date."},
	{"lift", String, false, "", "squat, bench press, deadlift, or another lift's own name."},
	{"variant", String, true, "", "Variant of the lift: sumo, paused, high bar, …"},
	{"bar", String, true, "", "Bar used: stiff, deadlift, or as declared."},
	{"tether", String, true, "", "Where the encoder's line was clipped: centre, inside sleeve, sleeve end."},
	{"load_kg", Float64, false, "kg", "Load: bar plus plates, as the source says."},
	{"set", Int32, false, "", "Number of the set within session and lift, from 1, variants together."},
	{"rep", Int32, false, "", "Number of the rep among the kept reps of its set, from 1."},
	{"rep_recorded", Int32, true, "", "Number of the rep as the source gave it, or its position where a row holds several reps."},
	{"mean_velocity_m_s", Float64, false, "m/s", "Mean concentric velocity."},
	{"peak_velocity_m_s", Float64, true, "m/s", "Peak concentric velocity."},
	{"rom_m", Float64, true, "m", "Range of motion: concentric displacement."},
	{"concentric_s", Float64, true, "s", "Duration of the concentric."},
	{"rpe", Float64, true, "", "RPE of the whole set, 1 to 10."},
	{"rpe_from", String, true, "", "Where the RPE was written: export or hand log."},
	{"missed", Bool, false, "", "The rep failed: marked so in a source, or recognised. Kept, but no part of speeds, losses or profiles."},
	{"set_role", String, false, "", "What the set was for: warm-up, top, back-off or work."},
	{"device", String, true, "", "Nickname of the unit that measured; hand log for speeds written by hand."},
	{"flags", StringList, false, "", "Filters that marked, corrected or rejoined the rep but did not set it aside."},
	{"load_recorded_kg", Float64, true, "kg", "Load as read, only where a declared correction changed it."},
	{"mean_velocity_recorded_m_s", Float64, true, "m/s", "Mean velocity as read, only where a filter or correction changed it."},
	{"rom_recorded_m", Float64, true, "m", "Range of motion as read, only where a filter or correction changed it."},
	{"concentric_recorded_s", Float64, true, "s", "Duration as read, only where a filter or correction changed it."},
	{"source", String, false, "", "File the rep was read from, relative to the input folder."},
	{"sheet", String, true, "", "Sheet of the workbook."},
	{"row", Int32, false, "", "Line or row in the source, from 1; of a trace, the rep's first sample."},
	{"mean_propulsive_velocity_m_s", Float64, true, "m/s", "Mean velocity up to where the bar brakes faster than gravity alone would; traces and exports that have it."},
	{"sticking_velocity_m_s", Float64, true, "m/s", "Slowest moment of the sticking region, between two peaks of velocity; empty where there is no dip, or the source does not say."},
	{"time_to_peak_s", Float64, true, "s", "From the start of the concentric to peak velocity; traces and exports that have it."},
	{"eccentric_s", Float64, true, "s", "Duration of the lowering before the rep; traces and exports that have it."},
}

// AsideColumns lists the columns of set-aside reps: those of reps, where the
// numbering is empty, and why.
var AsideColumns = append(withNull(Columns, "set", "rep", "session", "set_role"),
	Column{"filter", String, false, "", "The filter that set the rep aside: the first of those it failed."},
	Column{"reason", String, false, "", "Why, in one sentence."},
	Column{"measured", Float64, true, "as the reason says", "The value the filter measured."},
	Column{"limit", Float64, true, "as the reason says", "The limit it was held against."},
)

// SetColumns lists the columns of sets, in file order.
var SetColumns = []Column{
	{"lifter", String, false, "", "Name of the lifter."},
	{"session_date", Date, false, "", "Local calendar day of the session."},
	{"session", Int32, false, "", "Number of the session, 1, 2, … per lifter by date."},
	{"performed_at", Timestamp, true, "", "Start of the set in UTC, where a source has a time."},
	{"lift", String, false, "", "squat, bench press, deadlift, or another lift's own name."},
	{"variant", String, true, "", "Variant of the lift."},
	{"bar", String, true, "", "Bar used."},
	{"tether", String, true, "", "Where the encoder's line was clipped."},
	{"load_kg", Float64, true, "kg", "Load: bar plus plates."},
	{"set", Int32, true, "", "Number of the set within session and lift; empty where no rep of it was kept."},
	{"set_role", String, true, "", "What the set was for: warm-up, top, back-off or work."},
	{"reps", Int32, false, "", "Kept reps, missed ones included."},
	{"reps_missed", Int32, false, "", "Of the kept reps, how many were missed."},
	{"reps_set_aside", Int32, false, "", "Reps of the set that were set aside."},
	{"first_m_s", Float64, true, "m/s", "Mean velocity of the first rep done."},
	{"fastest_m_s", Float64, true, "m/s", "Mean velocity of the fastest rep."},
	{"last_m_s", Float64, true, "m/s", "Mean velocity of the last rep done."},
	{"slowest_m_s", Float64, true, "m/s", "Mean velocity of the slowest rep."},
	{"velocity_loss", Float64, true, "", "(fastest − last)/fastest, a share from 0 to 1; empty for a set of one."},
	{"rpe", Float64, true, "", "RPE of the set, 1 to 10."},
	{"rpe_from", String, true, "", "Where the RPE was written: export or hand log."},
	{"device", String, true, "", "Nickname of the unit that measured."},
	{"logged", Bool, false, "", "A hand log speaks of this set."},
	{"logged_load_kg", Float64, true, "kg", "Load as the hand log has it."},
	{"logged_reps", Int32, true, "", "Reps as the hand log has them."},
	{"logged_rpe", Float64, true, "", "RPE as the hand log has it."},
	{"logged_rpe_high", Float64, true, "", "Upper end where the log gives a range of RPE."},
	{"logged_first_m_s", Float64, true, "m/s", "First rep's speed as logged."},
	{"logged_fastest_m_s", Float64, true, "m/s", "Fastest rep's speed as logged."},
	{"logged_last_m_s", Float64, true, "m/s", "Last rep's speed as logged."},
	{"logged_slowest_m_s", Float64, true, "m/s", "Slowest rep's speed as logged."},
	{"logged_mean_m_s", Float64, true, "m/s", "Mean speed of the set as logged."},
	{"logged_text", String, true, "", "The log's own words."},
	{"log_source", String, true, "", "File of the hand log."},
	{"log_sheet", String, true, "", "Sheet of the hand log."},
	{"log_row", Int32, true, "", "Row of the hand log."},
	{"source", String, false, "", "File of the set's first rep; of the log where it stands alone."},
	{"sheet", String, true, "", "Sheet of the workbook."},
	{"row", Int32, false, "", "Line or row in the source, from 1."},
}

// UnreadColumns lists the columns of unread.csv.
var UnreadColumns = []Column{
	{"lost", String, false, "", "What was lost: row or cell."},
	{"source", String, false, "", "File, relative to the input folder."},
	{"sheet", String, true, "", "Sheet of the workbook."},
	{"row", Int32, true, "", "Line or row, from 1."},
	{"column", String, true, "", "Heading of the column."},
	{"text", String, true, "", "What stands there."},
	{"problem", String, false, "", "What is wrong with it and what to do."},
}

// withNull returns a copy of columns in which the named ones may be missing.
func withNull(columns []Column, names ...string) []Column {
	out := make([]Column, len(columns))
	for i, c := range columns {
		for _, n := range names {
			c.Null = c.Null || c.Name == n
		}
		out[i] = c
	}
	return out
}
