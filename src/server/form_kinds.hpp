// What a form may record, and the fields it may carry under their names in the journal.
#pragma once

#include <span>
#include <string_view>

namespace lampside::server {

struct FieldOf {
  enum class Type { text, number, yes_no };
  std::string_view name;
  Type type = Type::text;
};
/// Weights and temperatures come as typed readings beside these. Everything else in a form is passed over.
struct FormKind {
  std::string_view kind;
  std::span<const FieldOf> fields;
};
/// Null: a form cannot record that.
const FormKind* form_kind(std::string_view kind);

}  // namespace lampside::server
