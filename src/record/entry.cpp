#include "record/entry.hpp"

#include <nlohmann/json.hpp>

namespace lampside::record {

Body::Body() = default;
Body::Body(const Body&) = default;
Body::Body(Body&&) noexcept = default;
Body& Body::operator=(const Body&) = default;
Body& Body::operator=(Body&&) noexcept = default;
Body::~Body() = default;
bool Body::operator==(const Body& other) const {
  return static_cast<const AnyBody&>(*this) == static_cast<const AnyBody&>(other);
}

Unread::Unread() = default;
Unread::Unread(Json object) : object_{object.empty() ? nullptr : std::make_unique<Json>(std::move(object))} {}
Unread::Unread(const Unread& other) : object_{other.object_ ? std::make_unique<Json>(*other.object_) : nullptr} {}
Unread::Unread(Unread&&) noexcept = default;
Unread& Unread::operator=(const Unread& other) { return *this = Unread{other}; }
Unread& Unread::operator=(Unread&&) noexcept = default;
Unread::~Unread() = default;
bool Unread::operator==(const Unread& other) const { return json() == other.json(); }
const Json& Unread::json() const {
  static const Json none = Json::object();
  return object_ ? *object_ : none;
}

}  // namespace lampside::record
