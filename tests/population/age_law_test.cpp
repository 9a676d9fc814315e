#include "population/age_law.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/ageing/kinetics.hpp"
#include "heatside/library/library.hpp"

using namespace heatside;
using namespace heatside::population;

namespace {

const library::Library& records() {
  static const library::Library library = library::built_in_library();
  return library;
}

}  // namespace

TEST_CASE("age law: many draws give what each gives alone", "[population][age-law]") {
  const std::string id = GENERATE("pvc-std", "short-lived-1990s", "xlpo-125");
  CAPTURE(id);
  const ageing::GuardTable guard = ageing::guard_table(records().model.ageing.guard_strength.value);
  const AgeLaw law{records().insulations.at(id), records().model, guard};
  std::vector<AgeLaw::Scale> scales;
  std::vector<double> elongations, ages;
  for (int i = 0; i < 61; ++i) {
    scales.push_back(law.scale(1.2 + 0.03 * i));
    elongations.push_back(0.003 + 0.04 * i);  // some above what it is when new
    ages.push_back(0.05 * i);
  }
  std::vector<double> reached = elongations, left = ages;
  law.replace_by_ages(scales, reached);
  law.replace_by_elongations(scales, left);
  for (std::size_t i = 0; i < scales.size(); ++i) {
    CAPTURE(i);
    CHECK(reached[i] == Approx(law.age_at(scales[i], elongations[i])).epsilon(1.0e-12));
    CHECK(left[i] == Approx(law.elongation_at(scales[i], ages[i])).epsilon(1.0e-12));
  }
}

TEST_CASE("age law: a wire of the record's numbers is at its end point at age 1", "[population][age-law]") {
  // Holds by the definition of the thermal-life point (design, section 5.2), for either law.
  const std::string id = GENERATE("pvc-std", "short-lived-1990s");
  const library::Insulation& insulation = records().insulations.at(id);
  const ageing::GuardTable guard = ageing::guard_table(records().model.ageing.guard_strength.value);
  const AgeLaw law{insulation, records().model, guard};
  const std::vector<AgeLaw::Scale> scales(5, law.scale(0.01 * insulation.initial_elongation.value));
  std::vector<double> ages(5, 1.0), elongations(5, 0.01 * insulation.end_elongation.value);
  law.replace_by_elongations(scales, ages);
  law.replace_by_ages(scales, elongations);
  CHECK(ages[4] == Approx(0.01 * insulation.end_elongation.value).epsilon(1.0e-11));
  CHECK(elongations[4] == Approx(1.0).epsilon(1.0e-11));
}

TEST_CASE("age law: the floor is never reached", "[population][age-law]") {
  const std::string id = GENERATE("pvc-std", "short-lived-1990s");
  const ageing::GuardTable guard = ageing::guard_table(records().model.ageing.guard_strength.value);
  const AgeLaw law{records().insulations.at(id), records().model, guard};
  std::vector<double> elongations{0.01 * records().model.ageing.floor_elongation.value};
  law.replace_by_ages({law.scale(2.0)}, elongations);
  CHECK(std::isinf(elongations[0]));
}
