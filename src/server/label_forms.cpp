// What a label must say to be written down: a product's, a milk's.
#include "care/label.hpp"
#include "nest/milk.hpp"
#include "reference/tables.hpp"
#include "server/forms.hpp"

namespace lampside::server {
namespace {

using record::Entry;

/// A label must be one that doses can be worked out from, its strength read twice, and no slip for another bottle's.
Result<void> check_product(const record::Product& product, const Fields& form, const Entry* old) {
  const auto* before = old ? record::body_as<record::Product>(*old) : nullptr;
  const auto label = care::read_label(product, reference::built_in());
  if (!label) return tl::unexpected(label.error());
  if (!before || before->strength != product.strength) {
    const auto again = care::parse_strength(typed(form, "strength_again"));
    const auto same = [&](const care::Strength& s) {
      const auto first = care::parse_strength(*product.strength);
      return first && s.per == first->per && s.mg == first->mg;
    };
    if (!again || !same(*again))
      return problem("FORM_STRENGTH_TWICE", "the strength typed the second time is not the same",
                     "take the bottle in your hand and type in both fields what it says");
  }
  if (label->strength_doubt && !label->confirmed)
    return problem("FORM_STRENGTH_ODD", *label->strength_doubt,
                   "read the bottle again and correct the strength, or choose below that it stands");
  return {};
}

/// A tin without its energy is written down all the same; one that no milk can be is asked about while it is in the
/// hand.
Result<void> check_milk(const record::Milk& label) {
  const auto milk = nest::read(label, reference::built_in());
  const auto* why = std::get_if<reference::NotAssessed>(&milk);
  if (!why || why->code == "NO_ENERGY") return {};
  return problem("FORM_" + std::string(why->code), why->why, "correct the figure that is wrong");
}

/// One topic, not a pattern of several: a reading must be of one place.
Result<void> check_sensor(const record::Sensor& sensor) {
  if (!sensor.topic.empty() && sensor.topic.find_first_of("#+") == std::string::npos) return {};
  return problem("FORM_SENSOR_TOPIC", "a sensor's topic is not empty and has no # or + in it",
                 "type the topic of this one sensor, as in its own settings");
}

}  // namespace

Result<void> check_label(const Entry& entry, const Fields& form, const Entry* old) {
  if (const auto* product = record::body_as<record::Product>(entry)) return check_product(*product, form, old);
  if (const auto* milk = record::body_as<record::Milk>(entry)) return check_milk(*milk);
  if (const auto* sensor = record::body_as<record::Sensor>(entry)) return check_sensor(*sensor);
  return {};
}

}  // namespace lampside::server
