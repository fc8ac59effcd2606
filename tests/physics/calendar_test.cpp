#include "physics/calendar.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

using namespace linefall;

TEST_CASE("Days count from 1970-01-01", "[calendar]") {
    CHECK(dayNumber({1970, 1, 1}) == 0);
    CHECK(dayNumber({1970, 1, 2}) == 1);
    CHECK(dayNumber({1969, 12, 31}) == -1);
    // The epoch J2000.0, 2000-01-01 12h, is JD 2451545.0 (IAU), and 1970-01-01 0h is JD 2440587.5: 10957 days.
    CHECK(dayNumber({2000, 1, 1}) == 10957);
    // Meeus, Astronomical Algorithms, 2nd ed., example 7.a: 1957-10-04.81 is JD 2436116.31.
    CHECK(static_cast<double>(dayNumber({1957, 10, 4})) + 0.81 + 2440587.5 == Approx(2436116.31).epsilon(0.0).margin(1e-6));
}

TEST_CASE("Every day of three centuries goes to a date and back", "[calendar]") {
    CivilDate previous = civilDate(dayNumber({1899, 12, 31}));
    CHECK(previous == CivilDate{1899, 12, 31});
    int leap_days = 0;
    for (std::int64_t day = dayNumber({1900, 1, 1}); day <= dayNumber({2200, 12, 31}); ++day) {
        const CivilDate date = civilDate(day);
        const bool next_day = date.day == previous.day + 1 && date.month == previous.month && date.year == previous.year;
        const bool next_month = date.day == 1 && date.month == previous.month + 1 && date.year == previous.year;
        const bool next_year = date.day == 1 && date.month == 1 && date.year == previous.year + 1;
        if (dayNumber(date) != day || !isDate(date) || !(next_day || next_month || next_year)) FAIL("day " << day);
        if (date.month == 2 && date.day == 29) ++leap_days;
        previous = date;
    }
    CHECK(leap_days == 73);  // 1904 .. 2196 makes 74 multiples of four; 2100 is none (1900 and 2200 lie outside them)
}

TEST_CASE("Instants are read", "[calendar]") {
    const ParsedInstant noon = parseInstant("2026-06-21T12:00:00+01:00");
    REQUIRE(noon.ok());
    CHECK(noon.instant == Instant{dayNumber({2026, 6, 21}), 11 * 3600.0});
    CHECK(noon.utc_offset_s == 3600);
    CHECK(parseInstant("2026-06-21T11:00:00Z").instant == noon.instant);
    CHECK(parseInstant("2026-06-21t11:00:00z").instant == noon.instant);
    CHECK(parseInstant("2026-06-21T11:00:00-00:00").instant == noon.instant);

    // Examples of RFC 3339, section 5.8.
    CHECK(parseInstant("1985-04-12T23:20:50.52Z").instant == Instant{dayNumber({1985, 4, 12}), 23 * 3600 + 20 * 60 + 50.52});
    CHECK(parseInstant("1996-12-19T16:39:57-08:00").instant == parseInstant("1996-12-20T00:39:57Z").instant);
    CHECK(parseInstant("1990-12-31T23:59:60Z").instant == Instant{dayNumber({1990, 12, 31}), 86400.0});
    CHECK(parseInstant("1990-12-31T15:59:60-08:00").instant == parseInstant("1990-12-31T23:59:60Z").instant);
    const ParsedInstant dutch = parseInstant("1937-01-01T12:00:27.87+00:20");
    CHECK(dutch.ok());
    CHECK(dutch.instant.second == Approx(11 * 3600 + 40 * 60 + 27.87).epsilon(1e-15));

    // An offset may change the day, the month and the year.
    CHECK(parseInstant("2025-01-01T00:30:00+01:00").instant == parseInstant("2024-12-31T23:30:00Z").instant);
    CHECK(parseInstant("2024-02-29T00:00:00Z").ok());
    const ParsedInstant long_fraction = parseInstant("2026-01-01T00:00:00.123456789012345678901234567890Z");
    CHECK(long_fraction.instant.second == Approx(0.123456789012345).epsilon(1e-14));
}

namespace {
const char* const form = "an instant such as 2026-06-21T12:00:00+01:00";
}

TEST_CASE("What is no instant is refused, saying what was expected", "[calendar]") {
    struct Row {
        const char* text;
        const char* expected;
    };
    const Row row = GENERATE(
        Row{"", form}, Row{"noon", form},
        Row{"2026-06-21", form},
        Row{"2026-06-21 12:00:00Z", form},
        Row{"2026-6-21T12:00:00Z", form},
        Row{"nan", form}, Row{"inf-01-01T00:00:00Z", form},
        Row{"-026-06-21T12:00:00Z", form},
        Row{"2026-06-21T12:00Z", form},
        Row{"2026-06-21T12:00:00", "the offset from UTC after the time, Z or such as +01:00"},
        Row{"2026-06-21T12:00:00.", "digits after the point of the second"},
        Row{"2026-06-21T12:00:00.Z", "digits after the point of the second"},
        Row{"2026-06-21T12:00:00+1", "an offset from UTC such as +01:00"},
        Row{"2026-06-21T12:00:00+0100", "an offset from UTC such as +01:00"},
        Row{"2026-06-21T12:00:00+24:00", "an offset from UTC between -23:59 and +23:59"},
        Row{"2026-06-21T12:00:00Z ", "nothing after the offset from UTC"},
        Row{"1899-12-31T23:59:59Z", "a year from 1900 to 2200"}, Row{"2201-01-01T00:00:00Z", "a year from 1900 to 2200"},
        Row{"2026-00-21T12:00:00Z", "a month from 01 to 12"}, Row{"2026-13-21T12:00:00Z", "a month from 01 to 12"},
        Row{"2026-02-29T12:00:00Z", "a day from 01 to 28 in 2026-02"},
        Row{"2100-02-29T12:00:00Z", "a day from 01 to 28 in 2100-02"},
        Row{"2024-02-30T12:00:00Z", "a day from 01 to 29 in 2024-02"},
        Row{"2026-06-31T12:00:00Z", "a day from 01 to 30 in 2026-06"},
        Row{"2026-06-00T12:00:00Z", "a day from 01 to 30 in 2026-06"}, Row{"2026-06-21T24:00:00Z", "an hour from 00 to 23"},
        Row{"2026-06-21T12:60:00Z", "a minute from 00 to 59"}, Row{"2026-06-21T12:00:61Z", "a second from 00 to 59"},
        Row{"2026-06-21T12:00:60Z", "a second from 00 to 59 (UTC has no leap second at this instant)"},
        Row{"2015-12-31T23:59:60Z", "a second from 00 to 59 (UTC has no leap second at this instant)"},
        Row{"2016-12-31T23:59:60+01:00", "a second from 00 to 59 (UTC has no leap second at this instant)"});
    const ParsedInstant parsed = parseInstant(row.text);
    INFO(row.text);
    CHECK_FALSE(parsed.ok());
    CHECK(parsed.error == row.expected);
}

TEST_CASE("Instants are written", "[calendar]") {
    const Instant instant = parseInstant("2026-06-21T11:00:00.25Z").instant;
    CHECK(instantText(instant) == "2026-06-21T11:00:00Z");
    CHECK(instantText(instant, 3600, 2) == "2026-06-21T12:00:00.25+01:00");
    CHECK(instantText(instant, -12600, 1) == "2026-06-21T07:30:00.3-03:30");
    CHECK(instantText({dayNumber({2025, 12, 31}), 86399.9996}, 0, 3) == "2026-01-01T00:00:00.000Z");
    CHECK(instantText({dayNumber({2025, 12, 31}), 86399.4}, 0, 0) == "2025-12-31T23:59:59Z");
    CHECK(instantText({dayNumber({2025, 12, 31}), 82800.0}, 7200, 0) == "2026-01-01T01:00:00+02:00");
    CHECK(instantText({dayNumber({2016, 12, 31}), 86400.5}, 3600, 1) == "2017-01-01T00:59:60.5+01:00");
}

TEST_CASE("Text that was written is read as the same instant", "[calendar]") {
    for (int i = 0; i < 5000; ++i) {
        const Instant instant{dayNumber({1900, 1, 2}) + 21 * i, std::fmod(i * 12345.678901, 86400.0)};
        const int offset = (i % 27 - 12) * 1800;
        const ParsedInstant back = parseInstant(instantText(instant, offset, 9));
        REQUIRE(back.ok());
        CHECK(std::abs(secondsBetween(instant, back.instant)) < 1e-9);
        CHECK(back.utc_offset_s == offset);
    }
    const std::string leap = "2016-12-31T23:59:60.250000000Z";
    CHECK(instantText(parseInstant(leap).instant, 0, 9) == leap);
}

TEST_CASE("Seconds are added and local days begin", "[calendar]") {
    const Instant start{10, 86399.0};
    CHECK(plusSeconds(start, 1.0) == Instant{11, 0.0});
    CHECK(plusSeconds(start, -86400.0) == Instant{9, 86399.0});
    CHECK(plusSeconds({10, 0.0}, -1e-20) == Instant{10, 0.0});
    CHECK(secondsBetween(start, plusSeconds(start, 123456.5)) == 123456.5);
    CHECK(startOfDay({2026, 6, 21}, 3600) == parseInstant("2026-06-21T00:00:00+01:00").instant);
    CHECK(localDate(startOfDay({2026, 6, 21}, 3600), 3600) == CivilDate{2026, 6, 21});
    CHECK(localDate(startOfDay({2026, 6, 21}, 3600), 0) == CivilDate{2026, 6, 20});
    CHECK(localDate({dayNumber({2016, 12, 31}), 86400.5}, 0) == CivilDate{2016, 12, 31});
    CHECK(isDate({2024, 2, 29}));
    CHECK_FALSE(isDate({2023, 2, 29}));
    CHECK_FALSE(isDate({2023, 13, 1}));
}
