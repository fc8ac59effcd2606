#include "physics/calendar.h"

#include <erfa.h>
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

namespace linefall {

namespace {

constexpr int first_year = 1900;
constexpr int last_year = 2200;
constexpr double day_s = 86400.0;
constexpr const char* expected_form = "an instant such as 2026-06-21T12:00:00+01:00";

bool isLeapYear(int year) { return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0; }

int daysInMonth(int year, int month) {
    constexpr std::array<int, 12> days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return days[static_cast<std::size_t>(month - 1)] + (month == 2 && isLeapYear(year) ? 1 : 0);
}

/// Days from 0001-01-01 to the first of January of a year (year >= 1).
std::int64_t daysBeforeYear(std::int64_t year) {
    const std::int64_t past = year - 1;
    return 365 * past + past / 4 - past / 100 + past / 400;
}

constexpr std::int64_t epoch = 719162;  // 0001-01-01 to 1970-01-01

/// TAI - UTC at 0h of a day, s.
double taiMinusUtc(const CivilDate& date) {
    double seconds = 0.0;
    eraDat(date.year, date.month, date.day, 0.0, &seconds);  // a warning for far years keeps the last value
    return seconds;
}

/// True when UTC has had a second 23:59:60 at the end of this day.
bool endsWithLeapSecond(std::int64_t day) {
    const CivilDate today = civilDate(day);
    if (today.year < 1972) return false;
    return std::abs(taiMinusUtc(civilDate(day + 1)) - taiMinusUtc(today) - 1.0) < 1e-6;
}

/// Walks along a text; every step says whether it found what it looked for.
class Reader {
public:
    explicit Reader(std::string_view text) : text_(text) {}

    bool digits(int count, int& value) {
        value = 0;
        for (int i = 0; i < count; ++i) {
            if (!atDigit()) return false;
            value = 10 * value + (text_[at_++] - '0');
        }
        return true;
    }
    bool one(char a, char b) {
        if (at_ >= text_.size() || (text_[at_] != a && text_[at_] != b)) return false;
        last_ = text_[at_++];
        return true;
    }
    bool one(char a) { return one(a, a); }
    /// At least one digit; digits beyond the 15th are read and dropped.
    bool fraction(double& value) {
        if (!atDigit()) return false;
        std::int64_t whole = 0;
        std::int64_t scale = 1;
        for (; atDigit(); ++at_) {
            if (scale >= 1'000'000'000'000'000) continue;
            whole = 10 * whole + (text_[at_] - '0');
            scale *= 10;
        }
        value = static_cast<double>(whole) / static_cast<double>(scale);
        return true;
    }
    [[nodiscard]] char last() const { return last_; }
    [[nodiscard]] bool atEnd() const { return at_ == text_.size(); }

private:
    [[nodiscard]] bool atDigit() const { return at_ < text_.size() && text_[at_] >= '0' && text_[at_] <= '9'; }
    std::string_view text_;
    std::size_t at_ = 0;
    char last_ = '\0';
};

ParsedInstant refused(std::string expected) {
    ParsedInstant out;
    out.error = std::move(expected);
    return out;
}

}  // namespace

std::int64_t dayNumber(const CivilDate& date) {
    std::int64_t days = daysBeforeYear(date.year) - epoch + date.day - 1;
    for (int month = 1; month < date.month; ++month) days += daysInMonth(date.year, month);
    return days;
}

CivilDate civilDate(std::int64_t day) {
    // The mean year has 365.2425 days: the first guess is at most one year off.
    auto year = static_cast<std::int64_t>(std::floor(static_cast<double>(day + epoch) / 365.2425)) + 1;
    while (daysBeforeYear(year) - epoch > day) --year;
    while (daysBeforeYear(year + 1) - epoch <= day) ++year;
    CivilDate out{static_cast<int>(year), 1, 1};
    auto rest = static_cast<int>(day - (daysBeforeYear(year) - epoch));
    while (rest >= daysInMonth(out.year, out.month)) rest -= daysInMonth(out.year, out.month++);
    out.day = rest + 1;
    return out;
}

bool isDate(const CivilDate& date) {
    return date.year >= first_year && date.year <= last_year && date.month >= 1 && date.month <= 12 && date.day >= 1 &&
           date.day <= daysInMonth(date.year, date.month);
}

Instant plusSeconds(const Instant& instant, double seconds) {
    const double total = instant.second + seconds;
    const double days = std::floor(total / day_s);
    Instant out{instant.day + static_cast<std::int64_t>(days), total - days * day_s};
    if (out.second >= day_s) out = {out.day + 1, 0.0};  // a tiny negative total rounds up to a whole day
    return out;
}

double secondsBetween(const Instant& from, const Instant& to) {
    return static_cast<double>(to.day - from.day) * day_s + (to.second - from.second);
}

Instant startOfDay(const CivilDate& local_date, int utc_offset_s) {
    return plusSeconds({dayNumber(local_date), 0.0}, -utc_offset_s);
}

CivilDate localDate(const Instant& instant, int utc_offset_s) {
    const Instant in_day{instant.day, std::min(instant.second, std::nextafter(day_s, 0.0))};
    return civilDate(plusSeconds(in_day, utc_offset_s).day);
}

ParsedInstant parseInstant(std::string_view text) {
    Reader reader(text);
    CivilDate date;
    int hour = 0, minute = 0, second = 0;
    double fraction = 0.0;
    if (!reader.digits(4, date.year) || !reader.one('-') || !reader.digits(2, date.month) || !reader.one('-') ||
        !reader.digits(2, date.day) || !reader.one('T', 't') || !reader.digits(2, hour) || !reader.one(':') ||
        !reader.digits(2, minute) || !reader.one(':') || !reader.digits(2, second)) {
        return refused(expected_form);
    }
    if (reader.one('.') && !reader.fraction(fraction)) return refused("digits after the point of the second");
    int sign = 0, offset_hour = 0, offset_minute = 0;
    if (reader.one('Z', 'z')) {
        sign = 0;
    } else if (reader.one('+', '-')) {
        sign = reader.last() == '-' ? -1 : 1;
        if (!reader.digits(2, offset_hour) || !reader.one(':') || !reader.digits(2, offset_minute)) {
            return refused("an offset from UTC such as +01:00");
        }
    } else {
        return refused("the offset from UTC after the time, Z or such as +01:00");
    }
    if (!reader.atEnd()) return refused("nothing after the offset from UTC");

    if (date.year < first_year || date.year > last_year) return refused("a year from 1900 to 2200");
    if (date.month < 1 || date.month > 12) return refused("a month from 01 to 12");
    if (!isDate(date)) {
        const int days = daysInMonth(date.year, date.month);
        return refused(fmt::format("a day from 01 to {} in {:04}-{:02}", days, date.year, date.month));
    }
    if (hour > 23) return refused("an hour from 00 to 23");
    if (minute > 59) return refused("a minute from 00 to 59");
    if (second > 60) return refused("a second from 00 to 59");
    if (offset_hour > 23 || offset_minute > 59) return refused("an offset from UTC between -23:59 and +23:59");

    ParsedInstant out;
    out.utc_offset_s = sign * 60 * (60 * offset_hour + offset_minute);
    // The whole minute first: a leap second belongs to the minute 23:59 of the UTC day.
    const Instant whole_minute = plusSeconds({dayNumber(date), 60.0 * (60 * hour + minute)}, -out.utc_offset_s);
    if (second == 60 && !(whole_minute.second == day_s - 60.0 && endsWithLeapSecond(whole_minute.day))) {
        return refused("a second from 00 to 59 (UTC has no leap second at this instant)");
    }
    out.instant = {whole_minute.day, whole_minute.second + (second + fraction)};
    return out;
}

std::string instantText(const Instant& instant, int utc_offset_s, int decimals) {
    const int places = std::clamp(decimals, 0, 9);
    std::int64_t per_second = 1;
    for (int i = 0; i < places; ++i) per_second *= 10;
    // Whole ticks of the last digit; a leap second keeps its minute and is written as second 60.
    std::int64_t day = instant.day;
    std::int64_t ticks = std::llround(instant.second * static_cast<double>(per_second));
    const std::int64_t day_ticks = 86400 * per_second;
    const bool leap = instant.second >= day_s && ticks < day_ticks + per_second;
    if (ticks >= day_ticks && !leap) {
        ++day;
        ticks = 0;
    }
    const std::int64_t minute_of_day = leap ? 1439 : ticks / (60 * per_second);
    const std::int64_t in_minute = ticks - minute_of_day * 60 * per_second;
    const int offset_minutes = utc_offset_s / 60;
    const Instant local = plusSeconds({day, static_cast<double>(minute_of_day) * 60.0}, 60.0 * offset_minutes);
    const CivilDate date = civilDate(local.day);
    const auto local_minute = static_cast<int>(std::lround(local.second / 60.0));

    std::string out = fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", date.year, date.month, date.day, local_minute / 60,
                                  local_minute % 60, in_minute / per_second);
    if (places > 0) out += fmt::format(".{:0{}}", in_minute % per_second, places);
    if (offset_minutes == 0) return out + "Z";
    const int size = std::abs(offset_minutes);
    return out + fmt::format("{}{:02}:{:02}", offset_minutes < 0 ? '-' : '+', size / 60, size % 60);
}

}  // namespace linefall
