#include "homes/match.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "homes/assign.hpp"
#include "homes/handover.hpp"

namespace lampside::homes {

std::vector<std::pair<std::string_view, int>> scores(const record::BehaviourTest& t) {
  return {{"attraction", t.attraction}, {"following", t.following}, {"restraint", t.restraint},
          {"dominance", t.dominance},   {"elevation", t.elevation}, {"retrieving", t.retrieving},
          {"touch", t.touch},           {"sound", t.sound},         {"sight", t.sight},
          {"stability", t.stability}};
}

namespace {

std::string lower(std::string text) {
  for (auto& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

void purpose_fit(Fit& out, const std::string& purpose, const record::Pup& pup, const reference::Reference& reference) {
  const auto band = std::find_if(reference.behaviour_bands.begin(), reference.behaviour_bands.end(),
                                 [&](const auto& b) { return b.purpose == purpose; });
  if (band == reference.behaviour_bands.end()) {
    out.reasons.push_back(fmt::format("for {} the behaviour test says nothing", purpose));
    return;
  }
  if (pup.behaviour_tests.empty()) {
    out.reasons.emplace_back("no behaviour test yet");
    return;
  }
  int inside = 0;
  std::string ends;
  for (const auto& [name, score] : scores(pup.behaviour_tests.back().what)) {
    if (score >= band->from && score <= band->to) ++inside;
    if (score == 1 || score == 6) ends += fmt::format("{}{} {}", ends.empty() ? "" : ", ", name, score);
  }
  out.points += inside * static_cast<int>(reference::parameter(reference, "match_behaviour_points"));
  out.reasons.push_back(
      fmt::format("{} of 10 sub-tests at {} or {}, where {} is looked for", inside, band->from, band->to, band->title));
  if (!ends.empty()) out.reasons.push_back("look at the ends: " + ends);
}

}  // namespace

Fit fit(const record::Litter& litter, const record::Family& wish, const record::Pup& pup,
        const reference::Reference& reference) {
  Fit out;
  const auto& born = pup.birth.what;
  if (wish.sex) {
    const auto wanted = record::name_of(*wish.sex);
    if (!born.sex) {
      out.reasons.emplace_back("its sex is not written down");
    } else if (born.sex == wish.sex) {
      out.points += static_cast<int>(reference::parameter(reference, "match_sex_points"));
      out.reasons.push_back(fmt::format("{}, as wished", wanted));
    } else {
      out.reasons.push_back(fmt::format("not the {} wished for", wanted));
    }
  }
  if (wish.colour) {
    if (born.markings && lower(*born.markings).find(lower(*wish.colour)) != std::string::npos) {
      out.points += static_cast<int>(reference::parameter(reference, "match_colour_points"));
      out.reasons.push_back(fmt::format("{}, as wished", *wish.colour));
    } else {
      out.reasons.push_back(fmt::format("its markings do not say {}", *wish.colour));
    }
  }
  if (wish.purpose) purpose_fit(out, *wish.purpose, pup, reference);
  if (wish.earliest) {  // the same for every pup but by a day or so: told, and no points
    const auto from = legal_from(litter, pup, legal_age(litter, reference));
    const auto longer = (*wish.earliest - from).count();
    out.reasons.push_back(fmt::format("wanted not before {}; the law lets it go from {}{}", say_day(*wish.earliest),
                                      say_day(from),
                                      longer > 0 ? fmt::format(": {} days longer with you", longer) : ""));
  }
  if (out.reasons.empty()) out.reasons.emplace_back("no wish is written down: any pup does");
  return out;
}

Match match(const record::Litter& litter, const Order& order, const reference::Reference& reference) {
  Match out;
  std::vector<const Waiting*> families;
  const auto free =
      order.free_pups.size() - std::min(order.free_pups.size(), static_cast<std::size_t>(order.keeper_left));
  for (const auto& f : order.families) {
    if (!f.waits()) continue;
    if (families.size() < free)
      families.push_back(&f);
    else
      out.later.push_back(f.family);
  }
  std::vector<std::vector<Fit>> fits;
  std::vector<std::vector<int>> points;
  for (const auto* family : families) {
    record::Family wish{};
    for (const auto& w : litter.families)
      if (w.what.family == family->family) wish = w.what;
    auto& row = fits.emplace_back();
    auto& row_points = points.emplace_back();
    for (const auto& label : order.free_pups) {
      row.push_back(fit(litter, wish, *litter.pup(label), reference));
      row_points.push_back(row.back().points);
    }
  }
  const auto given = assign(points);
  for (std::size_t r = 0; r < families.size(); ++r)
    if (given[r] >= 0) {
      const auto c = static_cast<std::size_t>(given[r]);
      out.pairs.push_back({families[r]->family, order.free_pups[c], fits[r][c]});
    }
  return out;
}

}  // namespace lampside::homes
