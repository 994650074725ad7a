// Chance from a seed: the same throws with every compiler and library, which the standard's distributions do not
// promise.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>

namespace lampside::rehearse {

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_{seed} {}
  /// In (0, 1).
  double uniform() { return (static_cast<double>(next() >> 11) + 0.5) * 0x1.0p-53; }
  double uniform(double from, double to) { return from + (to - from) * uniform(); }
  bool happens(double chance) { return uniform() < chance; }
  /// 0 .. n - 1.
  int pick(int n) { return static_cast<int>(uniform() * n); }
  double normal() {
    const double length = std::sqrt(-2 * std::log(uniform()));  // apart: the order of throws in one expression is open
    return length * std::cos(2 * std::numbers::pi * uniform());
  }
  double normal(double mean, double sd) { return mean + sd * normal(); }
  /// Student's t with 3 degrees of freedom.
  double astray() {
    const double a = normal(), b = normal(), c = normal();
    const double over = std::sqrt((a * a + b * b + c * c) / 3);
    return normal() / over;
  }

 private:
  // splitmix64 (Steele, Lea and Flood 2014, Fast splittable pseudorandom number generators).
  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
  }
  std::uint64_t state_;
};

}  // namespace lampside::rehearse
