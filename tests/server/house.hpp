// A whole Lampside under test: journal in memory, a clock that the test turns, real HTTP on the loopback.
#pragma once

#include <atomic>
#include <chrono>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "client.hpp"
#include "server/app.hpp"

namespace lampside::server::test {

class MemoryPeople final : public store::People {
 public:
  Result<void> put(const record::Person& person) override {
    kept_[person.family] = person;
    return {};
  }
  Result<std::optional<record::Person>> get(const std::string& family) override {
    const auto found = kept_.find(family);
    return found == kept_.end() ? std::nullopt : std::optional{found->second};
  }
  Result<std::vector<record::Person>> list() override {
    std::vector<record::Person> out;
    for (const auto& [id, person] : kept_) out.push_back(person);
    return out;
  }
  Result<void> erase(const std::string& family) override {
    kept_.erase(family);
    return {};
  }

 private:
  std::map<std::string, record::Person> kept_;
};

/// The contract of store::Journal, in memory, with a switch to make it fail.
class MemoryJournal final : public store::Journal {
 public:
  Result<store::Receipt> append(std::span<const record::Entry> entries) override;
  Result<std::vector<record::Entry>> read(std::uint64_t from) override;
  Result<void> take_out(std::span<const record::Entry> entries) override;
  Result<std::uint64_t> count() override;
  Result<void> copy_to(const std::string&) override { return {}; }
  Result<std::string> setting(const std::string& name, const std::string& if_absent) override;
  store::People& people() override { return people_; }

  std::vector<record::Entry> all();
  void fail_with(std::string code);  ///< empty: work again

 private:
  std::mutex mutex_;
  std::vector<record::Entry> entries_;
  std::map<std::string, std::string> settings_;
  MemoryPeople people_;
  std::string failing_;
};

/// Europe/Berlin as it is in 2026, and UTC; any other name is not known.
Result<Zone> zone_of(const std::string& name);
Instant at(const std::string& iso);
std::string id(int n);  ///< a UUID for each number

inline const std::string kFeed = "feedfeedfeedfeedfeedfeedfeedfeed";

/// What a page would show of one form field or its notice.
bool holds(const Answer& a, const std::string& text);

class House {
 public:
  explicit House(const std::string& now = "2026-03-02T10:00:00+01:00", Future future = Future::all);

  Answer get(const std::string& target, const std::string& headers = {}) { return test::get(port(), target, headers); }
  /// With the token and a fresh id unless the fields name them.
  Answer post(const std::string& target, Fields fields, const std::string& headers = {});
  /// The litter "juniper-2026" with pups "1" and "2" born on the night to 1 March; id(1) is the litter, id(2), id(3)
  /// the births.
  void with_pups();
  Answer record(Fields fields) { return post("/l/juniper-2026/record", std::move(fields)); }

  [[nodiscard]] int port() const { return listener_->port(); }
  [[nodiscard]] const std::string& token() const { return token_; }
  [[nodiscard]] const record::Entry& last() { return (kept_ = journal.all()).back(); }
  void turn_clock(const std::string& iso) { now_ = at(iso).time_since_epoch().count(); }

  MemoryJournal journal;

 private:
  std::vector<record::Entry> kept_;
  std::atomic<std::int64_t> now_;
  std::atomic<int> next_id_{1000};
  std::string token_;
  std::unique_ptr<App> app_;
  std::unique_ptr<Listener> listener_;
};

}  // namespace lampside::server::test
