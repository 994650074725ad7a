// The JSON names of the enums, once for reading, writing and the schema.
#include "record/names.hpp"

namespace lampside::record {

#define LAMPSIDE_NAMED(Enum)                                            \
  std::string_view name_of(Enum value) { return name_in<Enum>(value); } \
  template <>                                                           \
  std::optional<Enum> from_name<Enum>(std::string_view name) {          \
    for (const auto& [v, n] : names<Enum>)                              \
      if (n == name) return v;                                          \
    return std::nullopt;                                                \
  }

LAMPSIDE_NAMED(Sign)
LAMPSIDE_NAMED(LabourStage)
LAMPSIDE_NAMED(Sex)
LAMPSIDE_NAMED(MatingMethod)
LAMPSIDE_NAMED(Basis)
LAMPSIDE_NAMED(ProductUse)
LAMPSIDE_NAMED(AirPlace)
LAMPSIDE_NAMED(Probe)
LAMPSIDE_NAMED(FeedShare)
LAMPSIDE_NAMED(FamilyStatus)
LAMPSIDE_NAMED(PickOrder)
LAMPSIDE_NAMED(ChoiceMade)
LAMPSIDE_NAMED(MoneyWay)
LAMPSIDE_NAMED(Presentation)
LAMPSIDE_NAMED(FeedWay)
LAMPSIDE_NAMED(CountMethod)
LAMPSIDE_NAMED(Keeping)
LAMPSIDE_NAMED(Anchor)
LAMPSIDE_NAMED(WeightUnit)
LAMPSIDE_NAMED(TemperatureUnit)

#undef LAMPSIDE_NAMED

}  // namespace lampside::record
