// Command duckdb does in SQL what repsift tidy does to the rows of
// testdata/bench, with a vectorised database engine: a typed read, pounds to
// kilograms, duplicates out, a band of median and MAD for each lifter and lift,
// kept reps and reps set aside as sorted Parquet, and a regression of speed on
// load for each lifter and lift.
//
//	go run ./testdata/bench -rows 10000000 -peer testdata/duckdb
//
// runs it beside repsift. It is a module of its own, so that users do not
// download the engine.
package main

import (
	"database/sql"
	"fmt"
	"os"
	"strings"

	_ "github.com/duckdb/duckdb-go/v2"
)

func main() {
	if len(os.Args) != 4 {
		fmt.Fprintln(os.Stderr, "usage: duckdb ROWS.csv DIR THREADS")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Args[2], os.Args[3]); err != nil {
		fmt.Fprintln(os.Stderr, "duckdb:", err)
		os.Exit(1)
	}
}

// steps are run in order. FILE, DIR and THREADS are filled in.
var steps = []string{
	`SET threads = THREADS`,
	`CREATE TABLE read AS
		SELECT column00 AS performed_at, column00::DATE AS session_date, column01 AS lifter, column02 AS lift,
			column03 * 0.45359237 AS load_kg, column04 AS set_mark, column05 AS rep_recorded,
			column06 AS mean_velocity_m_s, column07 AS peak_velocity_m_s, column08 AS rom_m, column09 AS concentric_s,
			row_number() OVER () + 1 AS row
		FROM read_csv('FILE', header = false, skip = 1, delim = ',', columns = {
			'column00': 'TIMESTAMP', 'column01': 'VARCHAR', 'column02': 'VARCHAR', 'column03': 'DOUBLE', 'column04': 'INTEGER',
			'column05': 'INTEGER', 'column06': 'DOUBLE', 'column07': 'DOUBLE', 'column08': 'DOUBLE', 'column09': 'DOUBLE'})`,
	`CREATE TABLE first AS
		SELECT lifter, performed_at, set_mark, rep_recorded, mean_velocity_m_s, rom_m, min(row) AS row
		FROM read GROUP BY ALL`,
	`CREATE TABLE middle AS
		SELECT lifter, lift, median(rom_m) AS rom_m FROM read WHERE rom_m >= 0.12 GROUP BY ALL`,
	`CREATE TABLE band AS
		SELECT lifter, lift, any_value(m.rom_m) AS middle, 1.4826 * median(abs(r.rom_m - m.rom_m)) AS spread
		FROM read r JOIN middle m USING (lifter, lift) WHERE r.rom_m >= 0.12 GROUP BY ALL`,
	`CREATE TABLE judged AS
		SELECT r.*, CASE WHEN f.row IS NULL THEN 'duplicate' WHEN r.rom_m < 0.12 THEN 'short travel'
			WHEN abs(r.rom_m - b.middle) > 6 * b.spread THEN 'usual travel' END AS filter
		FROM read r LEFT JOIN first f ON f.row = r.row JOIN band b ON b.lifter = r.lifter AND b.lift = r.lift`,
	`COPY (SELECT * EXCLUDE filter FROM judged WHERE filter IS NULL
		ORDER BY lifter, lift, session_date, set_mark, rep_recorded)
		TO 'DIR/reps.parquet' (FORMAT parquet, COMPRESSION zstd)`,
	`COPY (SELECT * FROM judged WHERE filter IS NOT NULL ORDER BY lifter, lift, session_date, row)
		TO 'DIR/set_aside.parquet' (FORMAT parquet, COMPRESSION zstd)`,
	`COPY (
		SELECT lifter, lift, count(*) AS sets, regr_slope(fastest, load_kg) AS slope, regr_intercept(fastest, load_kg) AS intercept
		FROM (SELECT lifter, lift, session_date, set_mark, load_kg, max(mean_velocity_m_s) AS fastest
			FROM judged WHERE filter IS NULL GROUP BY ALL)
		GROUP BY ALL ORDER BY ALL) TO 'DIR/lines.csv' (FORMAT csv)`,
}

func run(file, dir, threads string) error {
	if err := os.RemoveAll(dir); err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	db, err := sql.Open("duckdb", "")
	if err != nil {
		return err
	}
	defer db.Close()
	fill := strings.NewReplacer("FILE", file, "DIR", dir, "THREADS", threads)
	for _, s := range steps {
		if _, err := db.Exec(fill.Replace(s)); err != nil {
			return err
		}
	}
	return nil
}
