// Labels for tests, as a keeper would type them. Each says where its figures are printed.
#pragma once

#include <gtest/gtest.h>

#include "care/dose.hpp"
#include "measure/text.hpp"
#include "reference/tables.hpp"

namespace lampside::testing {

inline record::Product product(std::string active, std::string strength, std::string dose) {
  record::Product p;
  p.name = active + " " + strength;
  p.active = std::move(active);
  p.strength = std::move(strength);
  p.dose = std::move(dose);
  p.mark_ml = Millilitres{0.01};
  p.mark_g = Grams{0.001};
  p.parts = 2;
  return p;
}
/// What an invented keeper calls it and how it is dosed: for screens and papers.
inline record::Product worm_suspension() {
  record::Product p;
  p.name = "worm suspension";
  p.active = "pyrantel";
  p.strength = "4.54 mg/ml";
  p.dose = "5 mg/kg";
  p.mark_ml = Millilitres{0.1};
  p.lot = "LH-2217";
  return p;
}
inline care::Label label_of(const record::Product& p) {
  const auto label = care::read_label(p, reference::built_in());
  EXPECT_TRUE(label) << (label ? "" : to_text(label.error()));
  return *label;
}
inline care::Label label_of(std::string active, std::string strength, std::string dose) {
  return label_of(product(std::move(active), std::move(strength), std::move(dose)));
}

inline constexpr Kilograms kPound{kKilogramsPerPound};

/// 21 CFR 520.2042 (2019), pyrantel pamoate tablets: up to 5 lb at least 4.54 mg/lb, over 5 lb at least 2.27 mg/lb.
inline care::Label us_pyrantel_tablets() {
  auto p = product("pyrantel pamoate", "22.7 mg/tablet", "up to 5 lb: 4.54 mg/lb; over 5 lb: 2.27 mg/lb");
  p.at_least = true;
  return label_of(p);
}
/// Pyrantel 4.54 mg/ml suspension, over-the-counter US label: 5 ml per 10 lb. Directions second-hand, strength from
/// memory.
inline care::Label us_pyrantel_double() { return label_of("pyrantel pamoate", "4.54 mg/ml", "5 ml per 10 lb"); }
/// Pyrantel 2.27 mg/ml suspension: 5 ml per 5 lb. From memory.
inline care::Label us_pyrantel_single() { return label_of("pyrantel pamoate", "2.27 mg/ml", "5 ml per 5 lb"); }
/// Febantel 15 mg + pyrantel 5 mg in one ml, UK and Irish product text: 1 ml/kg, from two weeks and 0.6 kg.
/// Second-hand.
inline care::Label febantel_pyrantel() {
  auto p = product("febantel + pyrantel", "15 + 5 mg/ml", "15 + 5 mg/kg");
  p.min_age_d = Days{14};
  p.min_kg = Kilograms{0.6};
  p.repeat_d = Days{14};
  return label_of(p);
}
/// Fenbendazole 100 mg/ml: 21 CFR 520.905b gives 50 mg/kg on three days running; ml/kg is arithmetic.
inline care::Label fenbendazole_suspension() {
  auto p = product("fenbendazole", "100 mg/ml", "50 mg/kg");
  p.days_in_row = 3;
  return label_of(p);
}
/// Emodepside 0.9 + toltrazuril 18 mg/ml, EU leaflet: from two weeks and 0.4 kg; 0.45 + 9 mg/kg from memory.
inline care::Label emodepside_toltrazuril() {
  auto p = product("emodepside + toltrazuril", "0.9 + 18 mg/ml", "0.45 + 9 mg/kg");
  p.min_kg = Kilograms{0.4};
  return label_of(p);
}

inline double exact(const care::Label& label, Kilograms dog) {
  const auto worked = care::dosage(label, dog);
  const auto* dose = reference::value_of(worked);
  EXPECT_NE(dose, nullptr) << (dose ? "" : std::get<reference::NotAssessed>(worked).why);
  return dose ? dose->exact.count : std::nan("");
}
inline std::string code(const care::Label& label, Kilograms dog) {
  const auto worked = care::dosage(label, dog);
  const auto* no = std::get_if<reference::NotAssessed>(&worked);
  return no ? std::string(no->code) : "";
}

}  // namespace lampside::testing
