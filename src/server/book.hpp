// The journal as the server keeps it at hand: decoded once, folded again only when it grew.
#pragma once

#include <cstdint>
#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "advice/assessment.hpp"
#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "store/journal.hpp"

namespace lampside::server {

using ZoneLoader = std::function<Result<Zone>(const std::string& name)>;

/// What a visitor may see of entries dated after now. `all`: in real use such an entry is a slip of the keeper's, to be
/// shown and told of. `known`: on a journal that is looked at from an earlier day, what comes after is not known yet.
enum class Future { all, known };

/// What is known of a litter only while the program runs: asked for each screen.
using LiveFindings = std::function<std::vector<reference::Finding>(const record::Litter&, Instant now)>;

class Book {
 public:
  Book(store::Journal& journal, ZoneLoader zones, Future future);

  /// Reads what the journal has gained. Errors: STORE_*.
  Result<void> refresh(Instant now);

  [[nodiscard]] const std::vector<std::string>& litters() const { return litters_; }
  [[nodiscard]] bool has(const std::string& key) const;
  /// The entry of that id in any litter, or null. Valid until the next refresh.
  [[nodiscard]] const record::Entry* find(const record::EntryId& id) const;

  struct Page {
    record::Litter litter;
    std::optional<Problem> zone_trouble;  ///< the litter's zone is not known here; its times are shown in UTC
    advice::Kept kept{};
  };
  /// The folded litter; `key` must be one of litters().
  const Page& page(const std::string& key) { return fold(key); }
  /// What its entries mean at the moment of the last refresh.
  advice::Assessment assess(const std::string& key, const reference::Reference& reference);

  /// What these entries would leave out of place that fits now. Empty: they may be taken.
  std::vector<record::Misfit> new_misfits(const std::string& key, const std::vector<record::Entry>& entries);

  /// Reads everything anew at the next refresh: words were taken out of entries that are at hand here.
  void forget();

  Result<void> append(const std::vector<record::Entry>& entries);

  /// The journal's size for the live streams; asked of the journal at most five times a second, however many ask.
  std::uint64_t count_for_news();
  /// True when the journal was seen to grow within the last fifteen seconds.
  [[nodiscard]] bool grew_just_now() const;

 private:
  /// Of all litters, what a visitor may see.
  [[nodiscard]] std::vector<const record::Entry*> to_be_known() const;
  Page& fold(const std::string& key);

  store::Journal& journal_;
  ZoneLoader zones_;
  Future future_;
  std::deque<record::Entry> entries_;  ///< all, in order of arrival; they stay where they are
  std::unordered_map<std::string_view, const record::Entry*> by_id_;
  std::size_t shown_ = 0;  ///< how many of them may be seen
  Instant now_{};
  std::vector<std::string> litters_;  ///< sorted
  std::map<std::string, Page, std::less<>> pages_;
  std::map<std::string, Zone> known_zones_;
  std::uint64_t news_count_ = 0;
  std::int64_t news_asked_ms_ = -1;
  std::int64_t grew_ms_ = -1;
};

}  // namespace lampside::server
