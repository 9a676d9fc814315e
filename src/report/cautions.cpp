#include "heatside/report/cautions.hpp"

namespace heatside::report {

const std::vector<std::string>& cautions() {
  static const std::vector<std::string> texts{
      "WARNING: work on vehicle wiring can burn, start a fire, shock, or fire an airbag. Local codes and licensed practice "
      "come first; "
      "leave to trained people what you are not trained for.",
      "WARNING: isolate the battery, and any second source of power, as the maker's service information says before you "
      "touch the loom.",
      "WARNING: never probe, cut or unplug airbag and belt-tensioner circuits without the procedure of the maker's service "
      "information; "
      "write down which source you followed.",
      "WARNING: brittle insulation cracks when it is moved and may short later. Disturb it as little as possible; after an "
      "opening the "
      "vehicle may not run again. Repair what cracked before power comes back.",
      "WARNING: fuel vapour can catch fire and the ignition's high voltage can injure. Orange high-voltage cables are not "
      "covered here.",
      "CAUTION: hot parts burn, fans may start by themselves, and old sleeves may hold hazardous fibres.",
      "Never fit a larger fuse. Look for bare wire, routing, shields and fuse ratings before you restore power.",
      "The estimate shows where heat damage is more likely. It does not show that any wire is sound: chafing, gnawing, "
      "fluids and "
      "overload are not in it, and an engine may run faultlessly on a loom that is ready to fall apart.",
      "Nothing is claimed about what was not opened.",
  };
  return texts;
}

}  // namespace heatside::report
