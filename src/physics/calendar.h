#pragma once
// Instants: RFC 3339 text <-> a UTC day number and the seconds of that day. No clock is read here.

#include <cstdint>
#include <string>
#include <string_view>

namespace linefall {

/// A day of the Gregorian calendar.
struct CivilDate {
    int year = 2000;
    int month = 1;
    int day = 1;
    friend bool operator==(const CivilDate&, const CivilDate&) = default;
};

/// An instant of UTC, held to better than a nanosecond.
struct Instant {
    std::int64_t day = 0;  ///< days since 1970-01-01
    double second = 0.0;   ///< of that UTC day, [0, 86400); up to 86401 inside a leap second
    friend bool operator==(const Instant&, const Instant&) = default;
};

/// Days from 1970-01-01 to a Gregorian date. Own derivation: whole years, then the days before the month.
[[nodiscard]] std::int64_t dayNumber(const CivilDate& date);
/// The Gregorian date of a day number; the inverse of dayNumber.
[[nodiscard]] CivilDate civilDate(std::int64_t day);
/// True for a date that exists, in the years 1900 to 2200.
[[nodiscard]] bool isDate(const CivilDate& date);

/// The instant so many seconds later. Every day counts as 86400 s: leap seconds are skipped over.
[[nodiscard]] Instant plusSeconds(const Instant& instant, double seconds);
/// Seconds from one instant to another, every day counted as 86400 s.
[[nodiscard]] double secondsBetween(const Instant& from, const Instant& to);
/// 0h of a day on a clock that is `utc_offset_s` ahead of UTC.
[[nodiscard]] Instant startOfDay(const CivilDate& local_date, int utc_offset_s);
/// The date on a clock that is `utc_offset_s` ahead of UTC.
[[nodiscard]] CivilDate localDate(const Instant& instant, int utc_offset_s);

/// An instant and the offset that it was written with, or why the text is none.
struct ParsedInstant {
    Instant instant;
    int utc_offset_s = 0;
    std::string error;  ///< empty when the text was understood; otherwise what was expected
    [[nodiscard]] bool ok() const { return error.empty(); }
};

/// Reads "2026-06-21T12:00:00+01:00", "2026-06-21T11:00:00.25Z". Years 1900 to 2200; the offset is part of the text;
/// second 60 only inside a leap second that UTC has had. Source: RFC 3339, section 5.6.
[[nodiscard]] ParsedInstant parseInstant(std::string_view text);

/// Writes an instant as RFC 3339 text on a clock `utc_offset_s` ahead of UTC (whole minutes; 0 is written "Z"),
/// rounded to `decimals` digits of a second (0 to 9).
[[nodiscard]] std::string instantText(const Instant& instant, int utc_offset_s = 0, int decimals = 0);

}  // namespace linefall
