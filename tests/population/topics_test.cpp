// The experiments for teaching.
#include "heatside/population/topics.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/base/constants.hpp"
#include "population/cases.hpp"

using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::population;
using heatside::population::testing::records;

TEST_CASE("topics: the classroom case rests on as little as can be", "[population][classroom]") {
  const casefile::Case job = classroom_case(records(), "short-lived-1990s");
  CHECK(job.invented);
  CHECK(job.segments.size() == 3);
  const Estimate estimate = likely_estimate(job, records());
  CHECK(estimate.segments.front().id == "hot");
  CHECK(estimate.segments.back().id == "cool");
}

TEST_CASE("topics: soak is hottest after key-off", "[population][classroom]") {
  // The highest temperature comes after key-off: Sci. Rep. 14 (2024) s41598-024-70521-4, abstract.
  const auto topic = std::get<SoakTopic>(topic_of("soak", records(), ""));
  const double energy = 1.0e3 * records().insulations.at(topic.insulation).paths.front().activation_energy.value;
  for (const SoakPiece& piece : topic.pieces) {
    const SoakMinute* hottest = &piece.minutes.front();
    for (const SoakMinute& minute : piece.minutes) {
      if (minute.insulation > hottest->insulation) hottest = &minute;
      // Dakin 1948: the pace against the ambient's is that of one path.
      const double ln_pace = energy / molar_gas_constant * (1.0 / topic.ambient.value() - 1.0 / minute.insulation.value());
      CHECK_THAT(minute.pace, WithinRel(std::exp(ln_pace), 1e-9));
    }
    CHECK(hottest->since_key_on > topic.length);
    CHECK_THAT(piece.share_running + piece.share_after, WithinRel(1.0, 1e-12));
  }
  CHECK(topic.pieces.front().against_cool > topic.pieces[1].against_cool);
  CHECK_THAT(topic.pieces.back().against_cool, WithinRel(1.0, 1e-12));
}

TEST_CASE("topics: paths share the rate as two Arrhenius terms do", "[population][classroom]") {
  const auto topic = std::get<PathsTopic>(topic_of("paths", records(), "pp-fr"));
  REQUIRE(topic.paths.size() == 2);
  const double between = (topic.energies[0] - topic.energies[1]).value();
  const PathsPoint& first = topic.points.front();
  for (const PathsPoint& point : topic.points) {
    CHECK_THAT(point.share[0] + point.share[1], WithinRel(1.0, 1e-12));
    // ln of the ratio of two rates is straight in 1/T (Dakin 1948).
    const double ln_ratio = std::log(point.share[0] / point.share[1]) - std::log(first.share[0] / first.share[1]);
    CHECK_THAT(
        ln_ratio,
        WithinAbs(between / molar_gas_constant * (1.0 / first.temperature.value() - 1.0 / point.temperature.value()), 1e-9));
  }
  CHECK(topic.places.front().share[0] > topic.places.back().share[0]);
}

TEST_CASE("topics: more draws scatter less", "[population][classroom]") {
  const auto topic = std::get<DrawsTopic>(topic_of("draws", records(), ""));
  const auto scatter = [&](std::size_t draws) {
    double sum = 0.0, squares = 0.0, count = 0.0;
    for (const DrawsRun& run : topic.runs) {
      if (run.draws != draws) continue;
      sum += run.years.p50.value();
      squares += run.years.p50.value() * run.years.p50.value();
      count += 1.0;
    }
    return std::sqrt((squares - sum * sum / count) / (count - 1.0));
  };
  // 64 times the draws: an eighth of the scatter. Eight runs tell a scatter to a quarter: within 2.5 times.
  CHECK(scatter(100) / scatter(6400) > 8.0 / 2.5);
  for (const DrawsRun& run : topic.runs) {
    CHECK(run.years.p10 < run.years.p50);
    CHECK(run.years.p50 < run.years.p90);
  }
}

TEST_CASE("topics: worse at the hot piece is worse for the others", "[population][classroom]") {
  const auto topic = std::get<FindingsTopic>(topic_of("findings", records(), ""));
  const auto years = [&](const std::string& seen, const std::string& piece) {
    for (const FindingsRow& row : topic.rows) {
      if (row.seen == seen && row.segment == piece) return row.years.p50.value();
    }
    throw std::runtime_error("no row");
  };
  for (const char* piece : {"middle", "cool"}) {
    CHECK(years("supple", piece) > years("nothing", piece));
    CHECK(years("nothing", piece) > years("crumbling", piece));
  }
  for (const FindingsRow& row : topic.rows) {
    double sum = 0.0;
    for (const double chance : row.chance) sum += chance;
    CHECK_THAT(sum, WithinRel(1.0, 1e-9));
  }
}

TEST_CASE("topics: what is not there is refused", "[population][classroom]") {
  CHECK_THROWS_WITH(topic_of("weather", records(), ""), Contains("life-line"));
  CHECK_THROWS_WITH(topic_of("paths", records(), "pvc-stt"), Contains("pvc-std"));
}
