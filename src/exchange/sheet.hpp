// How a sheet of weights is understood: what each column is, before any row is read.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "exchange/csv.hpp"
#include "exchange/weights_csv.hpp"

namespace lampside::exchange {

/// The pups a sheet may name: by label or collar, whatever the case; "dam" or the dam's name is the dam.
class PupNames {
 public:
  explicit PupNames(const record::Litter& litter);
  struct Found {
    std::string label;  ///< as recorded, or as the sheet writes it when new
    bool known;
  };
  /// Errors: PUP_AMBIGUOUS. Unknown is no error here: whoever asks decides.
  [[nodiscard]] Result<Found> find(std::string_view name) const;
  [[nodiscard]] Problem unknown(std::string_view name) const;  ///< PUP_UNKNOWN, naming those known

 private:
  std::map<std::string, std::set<std::string>> labels_;  ///< folded name -> labels
  std::string known_;
};

struct Column {
  enum class Role { day, time, pup, weight, note, passed_over };
  Role role = Role::passed_over;
  std::string title;               ///< as the heading has it
  std::string pup;                 ///< wide: the label this column's weights belong to
  bool known = true;               ///< wide: that pup is recorded
  std::optional<WeightUnit> unit;  ///< named in the heading
};

struct Sheet {
  bool wide = false;
  std::vector<Column> columns;
  [[nodiscard]] std::optional<std::size_t> first(Column::Role role) const;
};

/// Whether a heading of that title stands above pups' names: "pup", "collar", ...
bool names_pups(std::string_view title);

/// Errors: CSV_HEADING, PUP_AMBIGUOUS, PUP_UNKNOWN (unless options.born).
Result<Sheet> understand(const Table& table, const PupNames& names, const WeightsOptions& options);

}  // namespace lampside::exchange
