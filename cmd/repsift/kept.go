package main

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"

	"repsift/ingest/season"
	"repsift/report/pack"
)

// mostKept is how large a file of what was read last time may be: a rep takes
// about 10 bytes of it.
const mostKept memory = 1 << 30

// kept returns what the last run into a folder kept of what it read; nil where
// there is nothing, or no room for it.
func (m memory) kept(out string) []byte {
	name := filepath.Join(out, pack.KeptFile)
	most := mostKept
	if m > 0 {
		most = min(most, m/10)
	}
	info, err := os.Lstat(name)
	if err != nil || !info.Mode().IsRegular() || memory(info.Size()) > most {
		return nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil
	}
	defer f.Close()
	file, err := io.ReadAll(io.LimitReader(f, int64(most)))
	if err != nil {
		return nil
	}
	return file
}

// keptFor names what a reading rests on beside its sources; empty where that
// cannot be told, so that nothing is kept.
func keptFor(program string, s *season.Season, file *pack.File) string {
	if program == "" {
		return ""
	}
	sum := ""
	if file != nil {
		sum = file.SHA256
	}
	return fmt.Sprintf("%s\n%q\n%s", program, s.File, sum) // messages name the season file
}

// buildID tells this program from every other build.
func buildID() string {
	info, _ := debug.ReadBuildInfo()
	var exe fs.FileInfo
	if name, err := os.Executable(); err == nil {
		exe, _ = os.Stat(name)
	}
	return programID(info, exe)
}

// programID tells a program from others by what it was built of, where that is
// known: a version, or sources as they were committed. Else by the size of its
// file and the time it was written. Empty: it cannot be told.
func programID(info *debug.BuildInfo, exe fs.FileInfo) string {
	has := func(key, value string) bool {
		return slices.ContainsFunc(info.Settings, func(s debug.BuildSetting) bool {
			return s.Key == key && s.Value != "" && (value == "" || s.Value == value)
		})
	}
	switch {
	case info != nil && (info.Main.Sum != "" || has("vcs.revision", "") && has("vcs.modified", "false")):
		return info.String() // version, commit, tools, libraries, how it was built
	case exe != nil:
		return fmt.Sprintf("%d bytes, written %d", exe.Size(), exe.ModTime().UnixNano())
	}
	return ""
}
