#include "server/book.hpp"

#include <algorithm>
#include <chrono>

namespace lampside::server {
namespace {

/// Only for spacing out questions and for news; nothing of a litter depends on it.
std::int64_t steady_ms() {
  return std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

}  // namespace

Book::Book(store::Journal& journal, ZoneLoader zones, Future future)
    : journal_{journal}, zones_{std::move(zones)}, future_{future} {}

Result<void> Book::refresh(Instant now) {
  now_ = now;
  const auto count = journal_.count();
  if (!count) return tl::unexpected(count.error());
  bool grew = false;
  if (*count > entries_.size()) {
    auto more = journal_.read(entries_.size());
    if (!more) return tl::unexpected(more.error());
    for (auto& e : *more) {
      const auto place = std::lower_bound(litters_.begin(), litters_.end(), e.litter);
      if (place == litters_.end() || *place != e.litter) litters_.insert(place, e.litter);
      entries_.push_back(std::move(e));
      by_id_.emplace(entries_.back().id, &entries_.back());
    }
    grew = true;
    grew_ms_ = steady_ms();
  }
  const auto shown =
      future_ == Future::all
          ? entries_.size()
          : static_cast<std::size_t>(std::count_if(entries_.begin(), entries_.end(),
                                                   [&](const record::Entry& e) { return e.at.instant <= now; }));
  if (grew || shown != shown_) {
    pages_.clear();
    shown_ = shown;
  }
  return {};
}

bool Book::has(const std::string& key) const {
  return std::find(litters_.begin(), litters_.end(), key) != litters_.end();
}

const record::Entry* Book::find(const record::EntryId& id) const {
  const auto place = by_id_.find(id);
  return place == by_id_.end() ? nullptr : place->second;
}

Book::Page& Book::fold(const std::string& key) {
  if (const auto kept = pages_.find(key); kept != pages_.end()) return kept->second;
  Page page{record::fold(to_be_known(), key, Zone{}), std::nullopt};
  const auto name = page.litter.facts.zone.value_or("UTC");
  auto zone = known_zones_.find(name);
  if (zone == known_zones_.end()) {
    if (auto loaded = zones_(name)) {
      zone = known_zones_.emplace(name, std::move(*loaded)).first;
    } else {
      page.zone_trouble = loaded.error();
    }
  }
  if (zone != known_zones_.end()) page.litter.zone = zone->second;
  return pages_.emplace(key, std::move(page)).first->second;
}

advice::Assessment Book::assess(const std::string& key, const reference::Reference& reference) {
  auto& page = fold(key);
  return advice::assess(page.litter, reference, now_, page.kept);
}

std::vector<const record::Entry*> Book::to_be_known() const {
  std::vector<const record::Entry*> out;
  out.reserve(entries_.size());
  for (const auto& e : entries_)
    if (future_ == Future::all || e.at.instant <= now_) out.push_back(&e);
  return out;
}

std::vector<record::Misfit> Book::new_misfits(const std::string& key, const std::vector<record::Entry>& entries) {
  const auto& before = page(key).litter.misfits;
  auto all = to_be_known();
  for (const auto& e : entries) all.push_back(&e);
  std::vector<record::Misfit> out;
  for (auto& m : record::fold(all, key, Zone{}).misfits)
    if (std::find(before.begin(), before.end(), m) == before.end()) out.push_back(std::move(m));
  return out;
}

void Book::forget() {
  by_id_.clear();
  entries_.clear();
  litters_.clear();
  pages_.clear();
  shown_ = 0;
}

Result<void> Book::append(const std::vector<record::Entry>& entries) {
  const auto done = journal_.append(entries);
  if (!done) return tl::unexpected(done.error());
  news_asked_ms_ = -1;
  return {};
}

std::uint64_t Book::count_for_news() {
  const auto ms = steady_ms();
  if (news_asked_ms_ < 0 || ms - news_asked_ms_ >= 200) {
    news_asked_ms_ = ms;
    if (const auto count = journal_.count();
        count && *count != news_count_) {  // a busy moment: the next look will tell
      news_count_ = *count;
      grew_ms_ = ms;
    }
  }
  return news_count_;
}

bool Book::grew_just_now() const { return grew_ms_ >= 0 && steady_ms() - grew_ms_ < 15'000; }

}  // namespace lampside::server
