package main

import (
	"database/sql"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"testing"
)

// Tables cut in parts are read by a database engine as they are, and several
// clubs' folders as one table.
func TestPartitions(t *testing.T) {
	dir := t.TempDir()
	run := func(name string, args ...string) {
		t.Helper()
		cmd := exec.Command(name, args...)
		cmd.Dir = filepath.Join("..", "..")
		said, err := cmd.CombinedOutput()
		if exit := new(exec.ExitError); errors.As(err, &exit) && exit.ExitCode() == 3 {
			err = nil // done, and the demo holds cells that cannot be read
		}
		if err != nil {
			t.Fatalf("%s: %v\n%s", cmd, err, said)
		}
	}
	repsift := filepath.Join(dir, "repsift")
	run("go", "build", "-o", repsift, "./cmd/repsift")
	run(repsift, "tidy", "testdata/demo", "--out", filepath.Join(dir, "whole"), "--quiet", "--tables")
	db, err := sql.Open("duckdb", "")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	same := func(a, b string) {
		t.Helper()
		var rows, only int
		if err := db.QueryRow("SELECT count(*) FROM (" + a + ")").Scan(&rows); err != nil || rows == 0 {
			t.Fatalf("%s: %d rows, %v", a, rows, err)
		}
		for _, q := range []string{"(%s) EXCEPT ALL (%s)", "(%[2]s) EXCEPT ALL (%[1]s)"} {
			if err := db.QueryRow("SELECT count(*) FROM (" + fmt.Sprintf(q, a, b) + ")").Scan(&only); err != nil || only > 0 {
				t.Errorf("%d rows of one of these only (%v):\n%s\n%s", only, err, a, b)
			}
		}
	}
	for _, by := range []string{"lifter", "lift", "month"} {
		out := filepath.Join(dir, by)
		run(repsift, "tidy", "testdata/demo", "--out", out, "--quiet", "--tables", "--partition", by)
		for table, columns := range map[string]string{
			"reps":      "rep_id, lifter, lift, session_date, load_kg, mean_velocity_m_s, flags",
			"set_aside": "rep_id, lifter, lift, session_date, filter, reason",
			"sets":      "lifter, lift, session_date, load_kg, reps, rpe",
		} {
			whole := fmt.Sprintf("SELECT %s FROM '%s/whole/%s.parquet'", columns, dir, table)
			parts := fmt.Sprintf("SELECT %s FROM read_parquet('%s/%s/**/*.parquet', hive_partitioning = true)", columns, out, table)
			same(whole, parts)
		}
	}
	one := "SELECT lifter, lift, count(*), sum(load_kg) FROM read_parquet('%s/%s/reps/*/*.parquet', hive_partitioning = true) GROUP BY ALL"
	same(fmt.Sprintf(one, dir, "lifter"), fmt.Sprintf("SELECT lifter, lift, count(*), sum(load_kg) FROM '%s/whole/reps.parquet' GROUP BY ALL", dir))
	two := fmt.Sprintf("SELECT count(*) FROM read_parquet(['%[1]s/lifter/reps/*/*.parquet', '%[1]s/lifter/reps/*/*.parquet'], hive_partitioning = true)", dir)
	same(two, fmt.Sprintf("SELECT 2 * count(*) FROM '%s/whole/reps.parquet'", dir))
}
