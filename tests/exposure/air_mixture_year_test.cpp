// Four running states at a time against one after the other: the same digits.
#include "exposure/air_mixture_year.hpp"

#include <catch2/catch.hpp>

#include "exposure/records.hpp"
#include "exposure/year_builder.hpp"

using namespace heatside;
using namespace heatside::exposure;
using namespace heatside::exposure::testing;

namespace {

void check_same(const TemperatureMeasure& a, const TemperatureMeasure& b) {
  for (std::size_t regime = 0; regime < 3; ++regime) {
    CHECK(a.by_regime[regime].kelvin == b.by_regime[regime].kelvin);
    CHECK(a.by_regime[regime].ambient_kelvin == b.by_regime[regime].ambient_kelvin);
    CHECK(a.by_regime[regime].share == b.by_regime[regime].share);
  }
}

}  // namespace

TEST_CASE("year of an air mixture: the digits of the general way", "[exposure][conduction]") {
  const std::array<double, 4> mix = GENERATE(std::array{0.3, 0.4, 0.2, 0.1}, std::array{0.0, 0.6, 0.4, 0.0});
  const SunHeat sun = GENERATE(SunHeat{}, SunHeat{8.0_K_rise, Hours{6.0}});
  YearOfUse use;
  use.days = gauss_days(records().climates.at("continental"));
  use.running_mix = mix;
  use.sun = sun;
  use.sun_shares = {1.0, 0.4};
  const std::vector<ZoneTrace> traces{trace_of("head-cover", "family"), trace_of("battery-tray", "family")};
  const std::vector<SampledWeek> weeks{sampled_week(traces[0], sun), sampled_week(traces[1], sun)};
  const std::vector<SampledZone> zones{{traces[0], weeks[0]}, {traces[1], weeks[1]}};
  const std::vector<LocalHeat> parts{{0.7, "head-cover", {}, {}}, {0.3, "battery-tray", {}, {}}};
  const Mixture mixture{zones_of(parts), parts, {{}, {}}};
  REQUIRE(mixture.weights_of_air() == std::vector<double>{0.7, 0.3});

  const TemperatureMeasure quick = year_of_air_mixture(zones, mixture.weights_of_air(), use);
  for (const Nodes& nodes : quick.by_regime) REQUIRE(nodes.kelvin.size() > 100);
  check_same(quick, YearBuilder<const Mixture&>{zones, use, mixture, {}}.build());
}

TEST_CASE("mixture: what differs from the air has no weights of air alone", "[exposure][conduction]") {
  const std::vector<LocalHeat> parts{{0.5, "a", {}, {}}, {0.5, "a", HotTerminal{}, "stud"}};
  const Temperature stud = [](const Instant&, bool) { return 350.0; };
  CHECK(Mixture{zones_of(parts), parts, {{}, stud}}.weights_of_air().empty());
}
