#include "care/records.hpp"

#include <algorithm>

namespace lampside::care {
namespace {

using record::Litter;
using record::Pup;
using reference::RecordField;

bool said(const std::optional<std::string>& text) { return text && !text->empty(); }

/// Whether a pup has the field; nothing where the field does not concern it (a sale of a pup that is still here).
std::optional<bool> of_pup(const Litter& litter, const Pup& pup, std::string_view field) {
  if (field == "pup.birth_time") return true;
  if (field == "pup.sex") return pup.birth.what.sex.has_value();
  if (field == "pup.markings") return said(pup.birth.what.markings);
  if (field == "pup.weight") return pup.birth.what.grams.has_value();
  if (!pup.born_alive()) return std::nullopt;
  if (field == "pup.chip") return pup.death ? std::nullopt : std::optional{!chip_of(litter, pup.label).empty()};
  if (field == "pup.left") return pup.departure || pup.death;
  if (field == "pup.buyer") return pup.departure ? std::optional{said(pup.departure->what.to)} : std::nullopt;
  return std::nullopt;
}

bool of_litter(const Litter& litter, std::string_view field) {
  const auto& dam = litter.facts.dam;
  const auto& sire = litter.facts.sire;
  if (field == "litter.count" || field == "whelped") return !litter.pups.empty();
  if (field == "placentas")
    return !litter.placentas.empty() ||
           std::any_of(litter.pups.begin(), litter.pups.end(), [](const Pup& p) { return p.birth.what.placenta; });
  if (field == "matings") return !litter.matings.empty();
  if (field == "dam.name") return dam && said(dam->name);
  if (field == "dam.born") return dam && dam->born;
  if (field == "dam.breed") return dam && said(dam->breed);
  if (field == "dam.chip") return !chip_of(litter, "dam").empty();
  if (field == "parity") return dam && dam->parity;
  if (field == "sire.name") return sire && said(sire->name);
  if (field == "sire.breed") return sire && said(sire->breed);
  return false;
}

FieldState state_of(const Litter& litter, const RecordField& field) {
  FieldState out{&field, 0, 0, {}, field.field == "by_hand"};
  if (out.by_hand) return out;
  if (!field.field.starts_with("pup.")) {
    out.of = 1;
    out.have = of_litter(litter, field.field) ? 1 : 0;
    return out;
  }
  for (const auto& pup : litter.pups) {
    const auto has = of_pup(litter, pup, field.field);
    if (!has) continue;
    ++out.of;
    if (*has)
      ++out.have;
    else
      out.missing.push_back(pup.label);
  }
  return out;
}

}  // namespace

bool Regime::complete() const {
  return std::all_of(fields.begin(), fields.end(), [](const FieldState& f) { return f.by_hand || f.complete(); });
}

std::vector<Regime> record_fields(const Litter& litter, const reference::Reference& reference) {
  const std::string place = litter.facts.place.value_or("");
  std::vector<Regime> out;
  for (const auto& field : reference.record_fields) {
    auto at = std::find_if(out.begin(), out.end(), [&](const Regime& r) { return r.name == field.regime; });
    if (at == out.end()) {
      const bool here =
          !field.place.empty() && (place == field.place || place.starts_with(std::string(field.place) + "-"));
      at = out.insert(out.end(), Regime{field.regime, here, {}});
    }
    at->fields.push_back(state_of(litter, field));
  }
  std::stable_partition(out.begin(), out.end(), [](const Regime& r) { return r.here; });
  return out;
}

std::string chip_of(const Litter& litter, std::string_view about) {
  std::string out;
  for (const auto& chip : litter.chips)
    if (chip.about == about) out = chip.what.number;
  return out;
}

}  // namespace lampside::care
