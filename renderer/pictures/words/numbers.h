// How numbers are said to people: the same lux, stop and T-stop everywhere, whatever the language of the
// machine. Where there is no light, the words say so; no infinity is ever printed.
#pragma once

#include "quantity/measured.h"
#include "quantity/space.h"

#include <string>

namespace rushlight {

inline constexpr const char* no_light = "no light";

/// Decimal point, no exponent. "-" when `value` is not finite.
std::string fixed(double value, int decimals);

/// Lux without the unit: whole numbers from 10 up, a space between thousands from 10 000 up.
std::string lux_text(double lux);
/// Lux without the unit in three significant digits, for maps and legends.
std::string short_lux_text(double lux);
/// Error of a reading, with as many decimals as the reading itself.
std::string lux_error_text(double lux, double error);
/// Signed stops in tenths: +1.3, −0.4, 0.0.
std::string stops_text(double stops);
/// T5.6; "-" when there is no light.
std::string t_stop_text(double t_stop);
/// n:1.
std::string ratio_text(double ratio);
/// A share of one in per cent: 62 %, <1 %.
std::string percent_text(double share);

/// One cell of comma-separated values (RFC 4180): words in quotes where they need them, after a "'" where a
/// spreadsheet would take them for a formula; no number, no cell.
std::string csv_cell(const std::string& words);
std::string csv_number(double value, int decimals);

/// "[1.20, 3.00, 2.05]": a place as the set-up file has it, to the centimetre.
std::string point_text(const Vec3& p);

/// "1.3 ± 0.02": a number in words with its standard error; without it where the error is not known.
std::string with_error(const std::string& number, double error);
/// A number of stops with its standard error; "no light" where there is none.
std::string with_error(const Measured& stops);

}  // namespace rushlight
