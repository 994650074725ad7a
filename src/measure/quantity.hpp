// One type per unit: a bare number never becomes a quantity, and grams never become millilitres.
#pragma once

#include <cmath>
#include <compare>
#include <cstdint>
#include <optional>

namespace lampside {

/// A measured amount. `Tag` names the unit; conversions are named functions, never implicit.
/// Differences and sums of one unit stay in that unit; a ratio of two is a bare number.
template <class Tag>
class Quantity {
 public:
  explicit constexpr Quantity(double value) noexcept : value_{value} {}
  [[nodiscard]] constexpr double count() const noexcept { return value_; }
  constexpr auto operator<=>(const Quantity&) const = default;

  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity{a.value_ + b.value_}; }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity{a.value_ - b.value_}; }
  friend constexpr Quantity operator-(Quantity a) { return Quantity{-a.value_}; }
  friend constexpr Quantity operator*(Quantity a, double k) { return Quantity{a.value_ * k}; }
  friend constexpr Quantity operator*(double k, Quantity a) { return Quantity{a.value_ * k}; }
  friend constexpr Quantity operator/(Quantity a, double k) { return Quantity{a.value_ / k}; }
  friend constexpr double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }

 private:
  double value_;
};

using Grams = Quantity<struct GramsTag>;
using Kilograms = Quantity<struct KilogramsTag>;
using Millilitres = Quantity<struct MillilitresTag>;
using Milligrams = Quantity<struct MilligramsTag>;
using MgPerMl = Quantity<struct MgPerMlTag>;
using Kilocalories = Quantity<struct KilocaloriesTag>;
using MgPerKg = Quantity<struct MgPerKgTag>;  ///< of active for each kilogram of dog
using Tablets = Quantity<struct TabletsTag>;  ///< or sachets, chews: what comes by the piece
using MgPerTablet = Quantity<struct MgPerTabletTag>;
using MgPerGram = Quantity<struct MgPerGramTag>;  ///< of a powder or of granules
using KcalPerMl = Quantity<struct KcalPerMlTag>;
using KcalPer100g = Quantity<struct KcalPer100gTag>;  ///< of a pup or of a food
using NgPerMl = Quantity<struct NgPerMlTag>;
using Millimetres = Quantity<struct MillimetresTag>;
using Centimetres = Quantity<struct CentimetresTag>;
using Watts = Quantity<struct WattsTag>;
using Amount = Quantity<struct AmountTag>;  ///< of a thing kept in the house, in its own unit
using Money = Quantity<struct MoneyTag>;    ///< in the keeper's own currency
using Percent = Quantity<struct PercentTag>;
using Days = Quantity<struct DaysTag>;    ///< a length such as "63.1 days"; a date is a CivilDay
using Hours = Quantity<struct HoursTag>;  ///< a length such as "21.5 hours" from a table

constexpr Kilograms to_kilograms(Grams g) { return Kilograms{g.count() / 1000.0}; }
constexpr Grams to_grams(Kilograms k) { return Grams{k.count() * 1000.0}; }
constexpr Milligrams operator*(MgPerMl strength, Millilitres v) { return Milligrams{strength.count() * v.count()}; }
constexpr Milligrams operator*(MgPerTablet strength, Tablets n) { return Milligrams{strength.count() * n.count()}; }
constexpr Milligrams operator*(MgPerGram strength, Grams g) { return Milligrams{strength.count() * g.count()}; }
constexpr Milligrams operator*(MgPerKg dose, Kilograms dog) { return Milligrams{dose.count() * dog.count()}; }
constexpr MgPerKg operator/(Milligrams mg, Kilograms dog) { return MgPerKg{mg.count() / dog.count()}; }
constexpr Kilocalories operator*(KcalPerMl density, Millilitres v) { return Kilocalories{density.count() * v.count()}; }
constexpr Millilitres operator/(Kilocalories energy, KcalPerMl density) {
  return Millilitres{energy.count() / density.count()};
}
constexpr Kilocalories operator*(KcalPer100g need, Grams g) { return Kilocalories{need.count() * g.count() / 100}; }
constexpr Percent percent_change(Grams from, Grams to) { return Percent{(to / from - 1.0) * 100.0}; }

/// Money that is added up: exact, in thousandths of the currency's unit (the smallest part any ISO 4217 currency has).
class Cash {
 public:
  /// Nothing if the figure has more than three decimals or is beyond 10^12.
  static std::optional<Cash> from_number(double amount) {
    const double thousandths = std::round(amount * 1000);
    if (!(std::fabs(amount) <= 1e12) || std::fabs(amount * 1000 - thousandths) > 1e-3) return std::nullopt;
    return Cash{static_cast<std::int64_t>(thousandths)};
  }
  explicit constexpr Cash(std::int64_t thousandths) noexcept : thousandths_{thousandths} {}
  [[nodiscard]] constexpr std::int64_t thousandths() const noexcept { return thousandths_; }
  /// For JSON, whose shortest number reads back as the same amount.
  [[nodiscard]] constexpr double number() const noexcept { return static_cast<double>(thousandths_) / 1000; }
  constexpr auto operator<=>(const Cash&) const = default;
  friend constexpr Cash operator+(Cash a, Cash b) { return Cash{a.thousandths_ + b.thousandths_}; }
  friend constexpr Cash operator-(Cash a, Cash b) { return Cash{a.thousandths_ - b.thousandths_}; }
  friend constexpr Cash operator-(Cash a) { return Cash{-a.thousandths_}; }
  friend constexpr Cash operator*(std::int64_t n, Cash a) { return Cash{n * a.thousandths_}; }

 private:
  std::int64_t thousandths_;
};

/// Avoirdupois, exact by the international yard and pound agreement of 1959.
inline constexpr double kGramsPerOunce = 28.349523125;
inline constexpr double kOuncesPerPound = 16.0;
inline constexpr double kKilogramsPerPound = kGramsPerOunce * kOuncesPerPound / 1000;  ///< 0.45359237

/// A temperature difference. A difference converts to Fahrenheit by x9/5 alone, a reading also adds 32:
/// that is why a reading (`Celsius`) and a difference are two types.
using CelsiusDelta = Quantity<struct CelsiusDeltaTag>;

/// A temperature as read: a point on the scale. Points cannot be added or scaled.
class Celsius {
 public:
  explicit constexpr Celsius(double value) noexcept : value_{value} {}
  [[nodiscard]] constexpr double count() const noexcept { return value_; }
  constexpr auto operator<=>(const Celsius&) const = default;
  friend constexpr CelsiusDelta operator-(Celsius a, Celsius b) { return CelsiusDelta{a.value_ - b.value_}; }
  friend constexpr Celsius operator+(Celsius a, CelsiusDelta d) { return Celsius{a.value_ + d.count()}; }
  friend constexpr Celsius operator-(Celsius a, CelsiusDelta d) { return Celsius{a.value_ - d.count()}; }

 private:
  double value_;
};
constexpr Celsius from_fahrenheit(double f) { return Celsius{(f - 32.0) * 5.0 / 9.0}; }
constexpr double to_fahrenheit(Celsius c) { return c.count() * 9.0 / 5.0 + 32.0; }
constexpr double to_fahrenheit(CelsiusDelta d) { return d.count() * 9.0 / 5.0; }

}  // namespace lampside
