// Any run of batches, with entries sent again and ids used twice, against the plainest model there is: a vector.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <optional>

#include "support.hpp"

namespace lampside::store::test {
namespace {

struct Sent {
  unsigned id;
  unsigned variant;  ///< other content under the same id
};
void showValue(const Sent& sent, std::ostream& out) { out << sent.id << (sent.variant == 0 ? "" : "'"); }

record::Entry entry_of(const Sent& sent) { return weight(sent.id, sent.variant == 0 ? 412 : 413); }

class Model {
 public:
  /// What append must answer; nothing for a conflict.
  std::optional<Receipt> append(const std::vector<Sent>& batch) {
    auto next = entries_;
    Receipt receipt;
    for (const auto& sent : batch) {
      const auto entry = entry_of(sent);
      const auto found = std::find_if(next.begin(), next.end(), [&](const auto& e) { return e.id == entry.id; });
      if (found == next.end()) {
        next.push_back(entry);
        ++receipt.appended;
      } else if (*found == entry) {
        ++receipt.replayed;
      } else {
        return std::nullopt;
      }
    }
    entries_ = std::move(next);
    return receipt;
  }
  [[nodiscard]] const std::vector<record::Entry>& entries() const { return entries_; }

 private:
  std::vector<record::Entry> entries_;
};

rc::Gen<Sent> sent() {
  // Few ids, so that most batches meet one again; other content rarely, so that not every batch is a conflict.
  return rc::gen::map(rc::gen::pair(rc::gen::inRange(0u, 8u), rc::gen::weightedElement<unsigned>({{9, 0u}, {1, 1u}})),
                      [](const auto& drawn) { return Sent{drawn.first, drawn.second}; });
}

RC_GTEST_PROP(Model, TheJournalIsAVector, ()) {
  const auto batch_of_them = rc::gen::scale(0.15, rc::gen::container<std::vector<Sent>>(sent()));
  const auto batches = *rc::gen::scale(0.4, rc::gen::container<std::vector<std::vector<Sent>>>(batch_of_them));
  const TempFolder folder;
  auto journal = opened(folder.path());
  Model model;
  unsigned conflicts = 0;
  for (const auto& batch : batches) {
    std::vector<record::Entry> entries;
    std::transform(batch.begin(), batch.end(), std::back_inserter(entries), entry_of);
    const auto receipt = journal->append(entries);
    const auto wanted = model.append(batch);
    RC_ASSERT(receipt.has_value() == wanted.has_value());
    if (wanted) {
      RC_ASSERT(receipt->appended == wanted->appended);
      RC_ASSERT(receipt->replayed == wanted->replayed);
    } else {
      ++conflicts;
      RC_ASSERT(receipt.error().code == "STORE_CONFLICT");
    }
    RC_ASSERT(journal->count().value() == model.entries().size());
    if (*rc::gen::inRange(0, 4) == 0) journal = opened(folder.path());
  }
  RC_CLASSIFY(conflicts > 0, "with a conflict");
  RC_ASSERT(journal->read().value() == model.entries());
  const auto from = *rc::gen::inRange<std::size_t>(0, model.entries().size() + 2);
  const auto skipped = static_cast<std::ptrdiff_t>(std::min(from, model.entries().size()));
  RC_ASSERT(journal->read(from).value() == std::vector(model.entries().begin() + skipped, model.entries().end()));
}

}  // namespace
}  // namespace lampside::store::test
