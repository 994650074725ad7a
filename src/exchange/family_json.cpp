#include "exchange/family_json.hpp"

#include <nlohmann/json.hpp>

namespace lampside::exchange {

bool names_family(const record::Entry& entry, std::string_view family) {
  return std::visit(
      [&](const auto& body) {
        if constexpr (requires { body.family; }) return body.family == family;
        if constexpr (requires { body.to; }) return body.to == family;
        return false;
      },
      entry.body);
}

record::Json family_json(std::string_view family, const std::optional<record::Person>& person,
                         const record::Litter& litter) {
  record::Json out{{"family", family}, {"litter", litter.key}, {"entries", record::Json::array()}};
  if (person) {
    out["person"] = {{"name", person->name},       {"phone", person->phone}, {"email", person->email},
                     {"address", person->address}, {"note", person->note},   {"consent", person->consent}};
    if (person->keep_until) out["person"]["keep_until"] = to_iso(*person->keep_until);
  }
  for (const auto* entries : {&litter.log, &litter.struck})
    for (const auto& e : *entries)
      if (names_family(e, family)) out["entries"].push_back(record::encode(e));
  return out;
}

}  // namespace lampside::exchange
