// Reading what a keeper types and printing it back in the keeper's units. No locale anywhere.
#pragma once

#include <string>
#include <string_view>

#include "measure/quantity.hpp"
#include "measure/result.hpp"

namespace lampside {

enum class WeightUnit { grams, ounces, kilograms, pounds };
enum class TemperatureUnit { celsius, fahrenheit };

/// The keeper's choice of units, and what a bare number means when typed.
struct Units {
  WeightUnit weight = WeightUnit::grams;  ///< for pups
  TemperatureUnit temperature = TemperatureUnit::celsius;
  bool operator==(const Units&) const = default;
};

/// Reads a decimal number with point or comma, with no locale: "412", "37,2", "14 3/8", "1/2".
/// Errors: NUMBER_EMPTY, NUMBER_FORMAT (also for inf, nan, hex and "1,234.5").
Result<double> parse_number(std::string_view text);

/// Reads a weight: "412" (in `bare`), "412 g", "0.41 kg", "14 3/8 oz", "1 lb 2 oz", "1lb2.5oz".
/// Errors: WEIGHT_FORMAT, WEIGHT_UNIT, WEIGHT_NEGATIVE; the text says what to type.
Result<Grams> parse_weight(std::string_view text, WeightUnit bare = WeightUnit::grams);

/// Reads a temperature: "37,2", "37.2 C", "98.9 F", "98.9°F". Errors: TEMP_FORMAT, TEMP_UNIT.
Result<Celsius> parse_temperature(std::string_view text, TemperatureUnit bare = TemperatureUnit::celsius);

/// "412 g", "1,240 g" is never written: digits are not grouped. Ounces to 1/8 oz ("14 3/8 oz", "1 lb 2 oz").
std::string say(Grams g, WeightUnit unit = WeightUnit::grams);
std::string say(Kilograms k);                                                      ///< "31.5 kg"
std::string say(Celsius c, TemperatureUnit unit = TemperatureUnit::celsius);       ///< "37.2 °C", "98.9 °F"
std::string say(CelsiusDelta d, TemperatureUnit unit = TemperatureUnit::celsius);  ///< "1.1 °C", "2.0 °F"
std::string say(Percent p);                                                        ///< "-4.2 %"
/// "12.50 EUR", "12.50" without a currency; a third decimal only where there is one.
std::string say_cash(Cash amount, const std::optional<std::string>& currency = std::nullopt);
/// A number with at most `decimals` decimals and no trailing zeros ("12", "12.5").
std::string say_number(double value, int decimals);
/// A name of ours as words, small: "strong_straining" and "STRONG_STRAINING" are "strong straining".
std::string in_words(std::string_view name);
/// The first letter large, as a sentence begins; a quoted word of the keeper's stays as it was typed.
std::string sentence(std::string_view text);

}  // namespace lampside
