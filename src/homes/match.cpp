#include "homes/match.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <limits>

namespace lampside::homes {

std::vector<int> assign(const std::vector<std::vector<int>>& points) {
  const std::size_t rows = points.size(), columns = rows == 0 ? 0 : points.front().size();
  if (columns == 0) return std::vector<int>(rows, -1);
  // The method wants no more rows than columns: empty columns stand for "none", which costs what no pup could.
  const std::size_t width = std::max(columns, rows);
  const auto cost = [&](std::size_t r, std::size_t c) -> std::int64_t {
    return c < columns ? -points[r][c] : 1'000'000;
  };
  constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max() / 4;
  std::vector<std::int64_t> u(rows + 1, 0), v(width + 1, 0);
  std::vector<std::size_t> row_of(width + 1, 0), from(width + 1, 0);  // counted from 1; 0: none yet
  for (std::size_t r = 1; r <= rows; ++r) {
    row_of[0] = r;
    std::size_t here = 0;
    std::vector<std::int64_t> slack(width + 1, kFar);
    std::vector<bool> seen(width + 1, false);
    do {  // the shortest way from this row to a free column
      seen[here] = true;
      const std::size_t row = row_of[here];
      std::int64_t step = kFar;
      std::size_t next = 0;
      for (std::size_t c = 1; c <= width; ++c) {
        if (seen[c]) continue;
        const std::int64_t reduced = cost(row - 1, c - 1) - u[row] - v[c];
        if (reduced < slack[c]) slack[c] = reduced, from[c] = here;
        if (slack[c] < step) step = slack[c], next = c;
      }
      for (std::size_t c = 0; c <= width; ++c) {
        if (seen[c])
          u[row_of[c]] += step, v[c] -= step;
        else
          slack[c] -= step;
      }
      here = next;
    } while (row_of[here] != 0);
    for (; here != 0; here = from[here]) row_of[here] = row_of[from[here]];
  }
  std::vector<int> out(rows, -1);
  for (std::size_t c = 1; c <= columns; ++c)
    if (row_of[c] != 0) out[row_of[c] - 1] = static_cast<int>(c) - 1;
  return out;
}

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

Fit fit(const record::Family& wish, const record::Pup& pup, const reference::Reference& reference) {
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
      row.push_back(fit(wish, *litter.pup(label), reference));
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
