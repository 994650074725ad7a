// Signs such as nesting: weak clues. No study gives how many bitches show each, so each weighs little
// (reference/sign_leads.toml).
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "due/model.hpp"

namespace lampside::due {

void sign_clue(const Reading& r, std::vector<ClueTerm>& out) {
  const Axis& axis = r.axes.whelping;
  ClueTerm clue{};
  clue.kind = "sign";
  clue.event = Event::whelping;
  std::vector<double> sum(axis.cells, 0), strongest(axis.cells, 0);
  std::string names;
  for (const auto& lead : r.reference.sign_leads) {
    // The latest of each kind: it says most, and ten notes of panting are one sign.
    const record::Noted<record::SignSeen>* last = nullptr;
    for (const auto& s : r.litter.signs)
      if (s.at <= r.now && record::name_of(s.what.sign) == lead.sign) last = &s;
    if (!last) continue;
    names += (names.empty() ? "" : ", ") + in_words(lead.sign);
    clue.source = lead.source;
    for (std::size_t i = 0; i < axis.cells; ++i) {
      const double hours = std::max(0.0, 24 * axis.days_after(last->at, i));
      const double likelier = std::log1p((lead.times - 1) * std::exp(-hours / lead.fades_h.count()));
      sum[i] += likelier;
      strongest[i] = std::max(strongest[i], likelier);
    }
  }
  if (names.empty()) return;
  for (std::size_t i = 0; i < axis.cells; ++i) clue.good.push_back((sum[i] + strongest[i]) / 2);
  clue.says = "signs seen: " + names;
  clue.slip = "look at her again";
  out.push_back(std::move(clue));
}

}  // namespace lampside::due
