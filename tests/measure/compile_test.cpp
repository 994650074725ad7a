// What must not compile, each with a twin that must: a probe that can only say no proves nothing.
#include <gtest/gtest.h>

#include <type_traits>

#include "measure/quantity.hpp"
#include "measure/time.hpp"

namespace lampside {
namespace {

template <class A, class B>
concept Addable = requires(A a, B b) { a + b; };
template <class A, class B>
concept Subtractable = requires(A a, B b) { a - b; };
template <class A, class B>
concept Comparable = requires(A a, B b) { a < b; };
template <class A, class B>
concept Multipliable = requires(A a, B b) { a* b; };

static_assert(Addable<Celsius, CelsiusDelta>);
static_assert(!Addable<Celsius, Celsius>);  // 37 °C and 37 °C are not 74 °C
static_assert(std::is_same_v<decltype(Celsius{38} - Celsius{37}), CelsiusDelta>);
static_assert(!std::is_same_v<decltype(Celsius{38} - Celsius{37}), Celsius>);
static_assert(Multipliable<CelsiusDelta, double>);
static_assert(!Multipliable<Celsius, double>);
static_assert(Addable<Grams, Grams>);
static_assert(!Addable<Grams, Kilograms>);
static_assert(!Addable<Grams, Millilitres>);
static_assert(Comparable<Grams, Grams>);
static_assert(!Comparable<Grams, Kilograms>);
static_assert(!Comparable<Celsius, CelsiusDelta>);
static_assert(Multipliable<MgPerMl, Millilitres>);
static_assert(!Multipliable<MgPerMl, Grams>);
static_assert(!Multipliable<Grams, Grams>);
static_assert(std::is_constructible_v<Grams, double>);
static_assert(!std::is_convertible_v<double, Grams>);  // a bare number never becomes a quantity
static_assert(!std::is_constructible_v<Grams, Kilograms>);
static_assert(!std::is_convertible_v<Grams, double>);
static_assert(!std::is_default_constructible_v<Grams>);
static_assert(Subtractable<Instant, Instant>);
static_assert(!Subtractable<Instant, CivilDay>);  // a day has no instant without a zone
static_assert(!Comparable<Instant, CivilDay>);
static_assert(Comparable<CivilDay, CivilDay>);

// The file above is the test: it compiles. These check that the named conversions are the right way round.
TEST(Quantity, NamedConversions) {
  EXPECT_DOUBLE_EQ(to_grams(Kilograms{31.5}).count(), 31500);
  EXPECT_DOUBLE_EQ(to_kilograms(Grams{412}).count(), 0.412);
  EXPECT_DOUBLE_EQ((MgPerMl{50} * Millilitres{0.4}).count(), 20);
  EXPECT_DOUBLE_EQ((KcalPerMl{1.2} * Millilitres{10}).count(), 12);
}

// Freezing and boiling point of water fix the scale; a difference of 12 °F is 6.7 K, not -11 °C.
TEST(Quantity, FahrenheitPointsAndDifferences) {
  EXPECT_DOUBLE_EQ(from_fahrenheit(32).count(), 0);
  EXPECT_DOUBLE_EQ(from_fahrenheit(212).count(), 100);
  EXPECT_NEAR(to_fahrenheit(Celsius{37}), 98.6, 1e-9);
  EXPECT_NEAR(to_fahrenheit(CelsiusDelta{12 * 5.0 / 9.0}), 12, 1e-9);
}

}  // namespace
}  // namespace lampside
