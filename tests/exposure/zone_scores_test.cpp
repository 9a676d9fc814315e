#include "heatside/exposure/zone_scores.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>
#include <random>

#include "base/text.hpp"
#include "casefile/sample_case.hpp"
#include "exposure/records.hpp"

using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::exposure;
using casefile::Case;

// The invented sample case has S1 in upper-bay, S2 in upper-bulkhead (rear) and head-cover (front).

namespace {

const library::Library& library_of_tests() { return testing::records(); }

Case case_with(const std::string& entries, const std::map<std::string, std::string>& files = {},
               const std::function<void(Json&)>& further = {}) {
  const Json document = casefile::changed([&](Json& c) {
    c["measured"] = read_strict_json(entries, "measured");
    if (further) further(c);
  });
  return casefile::read_case(document.dump(), "sample", casefile::records(),
                             [&](const std::string& name) { return std::optional{files.at(name)}; });
}

ZoneScores scores_with(const std::string& entries) { return zone_scores(case_with(entries), library_of_tests()); }

// A warm city reading at S1 by contact under a shut bonnet.
std::string city_at_s1(double celsius_read, const std::string& more = R"("bonnet": "shut", "instrument": "contact")") {
  return R"({"segment": "S1", "temperature_Cel": )" + std::to_string(celsius_read) +
         R"(, "ambient_Cel": 25, "state": "city", )" + more + "}";
}

const ZoneCorrection& correction_of(const ZoneScores& scores, const std::string& zone) {
  const auto place = std::find_if(scores.corrections.begin(), scores.corrections.end(),
                                  [&](const ZoneCorrection& correction) { return correction.zone == zone; });
  REQUIRE(place != scores.corrections.end());
  return *place;
}

// upper-bay, warm in town at 25 degC: 35 K, 25 to 45. Contact: 2 K; state 10 %, day 15 % + 2 K of the rise.
constexpr double city = 35.0, slope = 10.0 / 1.645;
constexpr double own_variance = 2.0 * 2.0 + 3.5 * 3.5, day_variance = (0.15 * city + 2.0) * (0.15 * city + 2.0);

}  // namespace

TEST_CASE("zone scores: nothing measured, nothing moved", "[exposure][score]") {
  const ZoneScores scores = zone_scores(casefile::read(casefile::sample_case()), library_of_tests());
  CHECK(scores.zones.size() == 16);
  CHECK(scores.corrections.empty());
  for (const ZoneScore& score : scores.scores) {
    CHECK(score.mean == 0.0);
    CHECK_THAT(score.sd, WithinRel(1.0, 1e-15));
  }
  // z = sqrt(1/2) common + sqrt(1/2) own.
  std::vector<double> own(16, 0.0);
  own[3] = -1.0;
  const std::vector<double> drawn = scores_of_draw(scores, 2.0, own);
  CHECK_THAT(drawn[0], WithinRel(std::numbers::sqrt2, 1e-14));
  CHECK_THAT(drawn[3], WithinRel(0.5 * std::numbers::sqrt2, 1e-14));
}

TEST_CASE("zone scores: one reading on a straight line is the normal times normal of any textbook", "[exposure][score]") {
  const double read = GENERATE(50.0, 60.0, 63.0, 75.0);
  const ZoneScores scores = scores_with("[" + city_at_s1(read) + "]");
  const double off = read - 25.0 - city;
  const double noise = own_variance + day_variance;
  const double gain = slope / (slope * slope + noise);
  const ZoneScore score = score_of(scores, "upper-bay");
  CAPTURE(read);
  // The cuts at +-4 take a little off the straight line.
  CHECK_THAT(score.mean, WithinAbs(gain * off, 1e-4));
  CHECK_THAT(score.sd, WithinAbs(std::sqrt(1.0 - gain * slope), 1e-4));

  // Zones that nobody measured have a covariance of 1/2 with this one.
  const ZoneScore other = score_of(scores, "alternator");
  CHECK_THAT(other.mean, WithinAbs(0.5 * gain * off, 1e-4));
  CHECK_THAT(other.sd, WithinAbs(std::sqrt(1.0 - 0.25 * gain * slope), 1e-4));
}

TEST_CASE("zone scores: a reading at the likely value moves nothing and narrows the spread", "[exposure][score]") {
  const ZoneScores scores = scores_with("[" + city_at_s1(60.0) + "]");
  CHECK_THAT(score_of(scores, "upper-bay").mean, WithinAbs(0.0, 1e-9));
  CHECK(score_of(scores, "upper-bay").sd < 0.85);
  const ZoneCorrection& correction = correction_of(scores, "upper-bay");
  CHECK(correction.measured);
  CHECK_THAT(correction.city_before.mean.value(), WithinAbs(35.0, 1e-6));
  CHECK_THAT(correction.city_before.sd.value(), WithinAbs(slope, 0.01));
  CHECK_THAT(correction.city_after.mean.value(), WithinAbs(35.0, 1e-6));
  CHECK_THAT(correction.city_after.sd / correction.city_before.sd, WithinAbs(score_of(scores, "upper-bay").sd, 0.01));
  CHECK(correction.soak_peak_after.sd < correction.soak_peak_before.sd);
  CHECK_FALSE(correction_of(scores, "head-cover").measured);
  REQUIRE(scores.residuals.size() == 1);
  CHECK_THAT(scores.residuals[0].residual().value(), WithinAbs(0.0, 1e-3));
  CHECK_THAT(scores.residuals[0].expected_sd.value(),
             WithinAbs(std::sqrt(slope * slope + own_variance + day_variance), 0.01));
}

TEST_CASE("zone scores: more readings narrow more, but never below what one day can tell", "[exposure][score]") {
  double last = 1.0;
  for (const std::size_t count : {1U, 2U, 5U, 20U, 80U}) {
    std::string entries;
    for (std::size_t i = 0; i < count; ++i) entries += (i > 0 ? ", " : "") + city_at_s1(70.0);
    const ZoneScore score = score_of(scores_with("[" + entries + "]"), "upper-bay");
    // n readings with one error in common are one reading with the variance day + own / n.
    const double noise = day_variance + own_variance / static_cast<double>(count);
    CAPTURE(count);
    CHECK_THAT(score.mean, WithinAbs(10.0 * slope / (slope * slope + noise), 1e-4));
    CHECK_THAT(score.sd, WithinAbs(std::sqrt(noise / (slope * slope + noise)), 1e-3));
    CHECK(score.sd < last);
    last = score.sd;
  }
  CHECK(last > std::sqrt(day_variance / (slope * slope + day_variance)));
}

TEST_CASE("zone scores: a better instrument counts more", "[exposure][score]") {
  const auto sd = [](const std::string& more) {
    return score_of(scores_with("[" + city_at_s1(70.0, more) + "]"), "upper-bay").sd;
  };
  const double logger = sd(R"("bonnet": "shut", "instrument": "logger")");
  const double contact = sd(R"("bonnet": "shut", "instrument": "contact")");
  const double infrared = sd(R"("bonnet": "shut", "instrument": "infrared")");
  const double shiny = sd(R"("bonnet": "shut", "instrument": "infrared", "shiny": true)");
  const double open = sd(R"("bonnet": "open", "instrument": "contact")");
  CHECK(logger < contact);
  CHECK(contact < infrared);
  CHECK(infrared < shiny);
  CHECK(contact < open);
  CHECK(shiny < 1.0);
}

TEST_CASE("zone scores: an open bonnet takes a share of the rise", "[exposure][score]") {
  const std::string open = R"("bonnet": "open", "instrument": "contact")";
  // 25 % of 35 K are gone: 25 + 26.25 = 51.25 Cel is what the likely zone shows.
  CHECK_THAT(score_of(scores_with("[" + city_at_s1(51.25, open) + "]"), "upper-bay").mean, WithinAbs(0.0, 1e-9));
  const double shut_mean = score_of(scores_with("[" + city_at_s1(70.0) + "]"), "upper-bay").mean;
  const double open_mean = score_of(scores_with("[" + city_at_s1(61.25, open) + "]"), "upper-bay").mean;
  // Both 10 K warmer than expected.
  CHECK(open_mean > 0.0);
  CHECK(open_mean < shut_mean);
}

TEST_CASE("zone scores: the order of the measurements does not matter", "[exposure][score]") {
  std::vector<std::string> entries{
      city_at_s1(70.0), city_at_s1(58.0, R"("bonnet": "open", "instrument": "infrared")"),
      R"({"segment": "S2", "stretch": "rear", "temperature_Cel": 95, "ambient_Cel": 31, "state": "soak",
          "minutes_since_key_off": 12, "bonnet": "shut", "instrument": "logger"})",
      R"({"segment": "S2", "stretch": "front", "temperature_Cel": 101, "ambient_Cel": 12, "state": "peak",
          "instrument": "indicator", "bonnet": "shut", "days": 1})"};
  std::sort(entries.begin(), entries.end());
  const auto scores_in_order = [&] { return scores_with("[" + join(entries) + "]"); };
  const ZoneScores first = scores_in_order();
  while (std::next_permutation(entries.begin(), entries.end())) {
    const ZoneScores now = scores_in_order();
    for (std::size_t i = 0; i < first.scores.size(); ++i) {
      CHECK_THAT(now.scores[i].mean, WithinAbs(first.scores[i].mean, 1e-12));
      CHECK_THAT(now.scores[i].sd, WithinAbs(first.scores[i].sd, 1e-12));
    }
  }
}

TEST_CASE("zone scores: several readings of several zones agree with plain sampling", "[exposure][score]") {
  const Case job =
      case_with("[" + city_at_s1(72.0) + "," + city_at_s1(55.0, R"("bonnet": "open", "instrument": "infrared")") +
                R"(, {"segment": "S2", "stretch": "rear", "temperature_Cel": 71, "ambient_Cel": 31,
                                   "state": "soak", "minutes_since_key_off": 12, "bonnet": "shut", "instrument": "logger"}])");
  const ZoneScores scores = zone_scores(job, library_of_tests());
  const ZoneReadings read = zone_readings(job, library_of_tests());
  REQUIRE(read.readings.size() == 3);
  const std::vector<std::string> zones{"upper-bay", "upper-bulkhead"};
  const std::vector<ZoneLaw> laws{zone_law(library_of_tests().zones.at(zones[0]), library_of_tests().model),
                                  zone_law(library_of_tests().zones.at(zones[1]), library_of_tests().model)};

  // Own sampling of the test: scores and shared errors are drawn, the readings weigh them.
  std::mt19937_64 random{20260914};
  std::normal_distribution<double> normal;
  constexpr int draws = 400000;
  double weights = 0.0;
  std::array<double, 3> sum{}, squares{};
  double product = 0.0;
  for (int draw = 0; draw < draws; ++draw) {
    const double common = normal(random);
    std::array<double, 3> z{};
    std::array<double, 2> day{};
    for (std::size_t k = 0; k < 2; ++k) {
      z[k] = std::sqrt(0.5) * (common + normal(random));
      day[k] = normal(random);
    }
    z[2] = std::sqrt(0.5) * (common + normal(random));  // nobody measured it
    double exponent = 0.0;
    for (const ZoneReading& reading : read.readings) {
      const std::size_t k = reading.zone == zones[0] ? 0 : 1;
      const double expected = predicted_reading(reading, laws[k], z[k]).value() + reading.zone_sd.value() * day[k];
      const double apart = (reading.temperature.value() - expected) / reading.own_sd.value();
      exponent -= 0.5 * apart * apart;
    }
    const double weight = std::exp(exponent);
    weights += weight;
    for (std::size_t k = 0; k < 3; ++k) {
      sum[k] += weight * z[k];
      squares[k] += weight * z[k] * z[k];
    }
    product += weight * z[0] * z[1];
  }
  const auto mean = [&](std::size_t k) { return sum[k] / weights; };
  const auto sd = [&](std::size_t k) { return std::sqrt(squares[k] / weights - mean(k) * mean(k)); };
  const std::array<std::string, 3> all{zones[0], zones[1], "underbody-exhaust"};
  for (std::size_t k = 0; k < 3; ++k) {
    CAPTURE(all[k]);
    // Four standard errors of the sampling, about 1e5 of the draws count.
    CHECK_THAT(score_of(scores, all[k]).mean, WithinAbs(mean(k), 0.012));
    CHECK_THAT(score_of(scores, all[k]).sd, WithinAbs(sd(k), 0.012));
  }

  const auto row = [&](const std::string& zone) {
    const auto place = std::lower_bound(scores.zones.begin(), scores.zones.end(), zone) - scores.zones.begin();
    return &scores.gains[static_cast<std::size_t>(place) * (scores.zones.size() + 1)];
  };
  double covariance = 0.0;
  for (std::size_t i = 0; i <= scores.zones.size(); ++i) covariance += row(zones[0])[i] * row(zones[1])[i];
  CHECK_THAT(covariance, WithinAbs(product / weights - mean(0) * mean(1), 0.012));
}

TEST_CASE("zone scores: draws have the stated means and spreads", "[exposure][score]") {
  const ZoneScores scores = scores_with("[" + city_at_s1(75.0) + "]");
  std::mt19937_64 random{7};
  std::normal_distribution<double> normal;
  constexpr int draws = 50000;
  const std::size_t count = scores.zones.size();
  std::vector<double> sum(count), squares(count), own(count);
  double farthest = 0.0;
  for (int draw = 0; draw < draws; ++draw) {
    for (double& value : own) value = normal(random);
    const std::vector<double> z = scores_of_draw(scores, normal(random), own);
    for (std::size_t i = 0; i < count; ++i) {
      sum[i] += z[i];
      squares[i] += z[i] * z[i];
      farthest = std::max(farthest, std::abs(z[i]));
    }
  }
  CHECK(farthest == 4.0);  // 16 zones in 50 000 draws: some would lie beyond the cut
  for (std::size_t i = 0; i < count; ++i) {
    CAPTURE(scores.zones[i]);
    const double mean = sum[i] / draws;
    CHECK_THAT(mean, WithinAbs(scores.scores[i].mean, 0.02));
    CHECK_THAT(std::sqrt(squares[i] / draws - mean * mean), WithinAbs(scores.scores[i].sd, 0.02));
  }
}

TEST_CASE("zone scores: the published day under a bonnet moves the intake side the right way", "[exposure][score]") {
  // Hobby measurement of August 2019 in the collected references: ambient about 32 degC, air at the intake settles at
  // +14 to +17 K while driving and is at +42 K after 20 min parked with the bonnet shut.
  const std::string driving = R"({"segment": "S1", "temperature_Cel": 47.5, "ambient_Cel": 32, "state": "cruise",
                                  "bonnet": "shut", "instrument": "logger"})";
  const std::string soak = R"({"segment": "S1", "temperature_Cel": 74, "ambient_Cel": 32, "state": "soak",
                               "minutes_since_key_off": 20, "bonnet": "shut", "instrument": "logger"})";
  const ZoneScores scores = scores_with("[" + driving + "," + soak + "]");
  // The record says 25 K in cruise and a peak of 50 K: both readings are cooler than that.
  REQUIRE(scores.residuals.size() == 2);
  CHECK(scores.residuals[0].residual().value() == Approx(-9.5).margin(0.2));
  CHECK(scores.residuals[1].residual().value() < -2.0);
  CHECK(scores.warnings.empty());
  const ZoneCorrection& bay = correction_of(scores, "upper-bay");
  CHECK(bay.score.mean < -0.2);
  CHECK(bay.city_after.mean < bay.city_before.mean);
  CHECK(bay.soak_peak_after.mean < bay.soak_peak_before.mean);
  CHECK(bay.soak_peak_after.mean.value() > 42.0);  // one day does not take the place of the record
  CHECK(bay.city_after.sd.value() < 0.9 * bay.city_before.sd.value());
  for (const ReadingResidual& residual : scores.residuals) {
    CHECK(residual.expected_after < residual.expected);
    CHECK(residual.expected_after > residual.reading.temperature);
  }
  // Half the common part moves, so the neighbours follow by less.
  const ZoneCorrection& bulkhead = correction_of(scores, "upper-bulkhead");
  CHECK(bulkhead.score.mean < 0.0);
  CHECK(bulkhead.score.mean > bay.score.mean);
}

TEST_CASE("zone scores: an indicator is compared with the soak peak", "[exposure][score]") {
  // upper-bay at 25 degC: 25 + 50 = 75 Cel by the record.
  const std::string entry = R"([{"segment": "S1", "temperature_Cel": 75, "ambient_Cel": 25, "state": "peak",
                                 "instrument": "indicator", "bonnet": "shut")";
  const auto reading = [&](const std::string& days) {
    return zone_readings(case_with(entry + days + "}]"), library_of_tests());
  };
  const ZoneReadings day = reading(R"(, "days": 1)"), month = reading(R"(, "days": 30)"), unknown = reading("");
  const ZoneLaw law = zone_law(library_of_tests().zones.at("upper-bay"), library_of_tests().model);
  CHECK_THAT(in_celsius(predicted_reading(day.readings.at(0), law, 0.0)), WithinAbs(75.0, 0.02));
  CHECK_THAT(in_celsius(predicted_reading(day.readings.at(0), law, 1.645)), WithinAbs(90.0, 0.1));
  // Days hotter than the stated one: 4 K more in the spread.
  const double own = day.readings[0].own_sd.value();
  CHECK_THAT(month.readings.at(0).own_sd.value(), WithinAbs(std::hypot(own, 4.0), 1e-9));
  CHECK(unknown.readings.at(0).own_sd == month.readings[0].own_sd);
  CHECK(day.assumptions.empty());
  REQUIRE(unknown.assumptions.size() == 1);
  CHECK_THAT(unknown.assumptions[0].text, Contains("days"));
}

TEST_CASE("zone scores: a zone tied to the thermostat is compared at its own ambient", "[exposure][score]") {
  // head-cover follows the ambient by 0.3: at 5 degC it is 72 + 0.7 * 20 = 86 K above it in town.
  const ZoneReadings read = zone_readings(
      case_with(R"([{"segment": "S2", "stretch": "front", "temperature_Cel": 90, "ambient_Cel": 5, "state": "city",
                     "bonnet": "shut", "instrument": "contact"}])"),
      library_of_tests());
  const ZoneLaw law = zone_law(library_of_tests().zones.at("head-cover"), library_of_tests().model);
  CHECK_THAT(in_celsius(predicted_reading(read.readings.at(0), law, 0.0)), WithinAbs(91.0, 1e-9));
}

TEST_CASE("zone scores: early after a cold start the zone is not warm yet", "[exposure][score]") {
  const auto expected = [](const std::string& more) {
    const std::string entry = city_at_s1(50.0, R"("bonnet": "shut", "instrument": "contact")" + more);
    const ZoneReadings read = zone_readings(case_with("[" + entry + "]"), library_of_tests());
    const ZoneLaw law = zone_law(library_of_tests().zones.at("upper-bay"), library_of_tests().model);
    return in_celsius(predicted_reading(read.readings.at(0), law, 0.0));
  };
  CHECK_THAT(expected(R"(, "minutes_running": 0)"), WithinAbs(25.0, 1e-9));
  // theta' = (35 E - theta)/tau, E = 1 - e^(-t/8), tau = 0.6 * 8 = 4.8 min, solved by hand from rest.
  const double at_10 =
      35.0 * (1.0 - std::exp(-10.0 / 4.8)) - 35.0 * (std::exp(-10.0 / 8.0) - std::exp(-10.0 / 4.8)) / (1.0 - 4.8 / 8.0);
  CHECK_THAT(expected(R"(, "minutes_running": 10)"), WithinAbs(25.0 + at_10, 1e-9));
  CHECK_THAT(expected(R"(, "minutes_running": 200)"), WithinAbs(60.0, 1e-6));
}

TEST_CASE("zone scores: a logger's thousand rows are two readings", "[exposure][score][logger]") {
  // Rows of the zone at a score of 1, made by the model itself: cold start at 10 min, 30 min in town, then parked.
  const library::Zone& zone = library_of_tests().zones.at("upper-bay");
  const ZoneLaw law = zone_law(zone, library_of_tests().model);
  const ZoneTrace trace = periodic_week(zone_heat_at(zone, 1.0), soak_amplitudes_at(zone, law.soak_at_likely, 1.0),
                                        law.constants, {{Minutes{10.0}, Minutes{30.0}}});
  const auto file = [&](double step) {
    std::string rows = "minutes,temperature_Cel\n";
    for (double t = 0.0; t <= 400.0; t += step) {
      double rise = 0.0;
      if (t > 10.0) {
        const TraceInterval& interval = t <= 40.0 ? trace.week[0] : trace.week[1];
        rise = testing::rise_at(trace, interval, t - interval.start.value(), testing::even_day(25.0),
                                testing::city_rise(trace.heat));
      }
      rows += std::to_string(t) + "," + std::to_string(25.0 + rise) + "\n";
    }
    return rows;
  };
  const std::string entry = R"([{"segment": "S1", "file": "trip.csv", "ambient_Cel": 25, "state": "city", "key_on_min": 10,
                                 "key_off_min": 40, "bonnet": "shut"}])";
  const Case fine = case_with(entry, {{"trip.csv", file(0.25)}}), coarse = case_with(entry, {{"trip.csv", file(5.0)}});
  const ZoneReadings read = zone_readings(fine, library_of_tests());
  REQUIRE(read.readings.size() == 2);
  CHECK_THAT(read.readings[0].instant, Contains("trip.csv, mean of 60 rows while driving"));
  CHECK_THAT(read.readings[1].instant, Contains("mean of 480 rows after key-off"));
  for (const ZoneReading& reading : read.readings) {
    CHECK_THAT((predicted_reading(reading, law, 1.0) - reading.temperature).value(), WithinAbs(0.0, 1e-5));
  }
  const ZoneScore of_fine = score_of(zone_scores(fine, library_of_tests()), "upper-bay");
  const ZoneScore of_coarse = score_of(zone_scores(coarse, library_of_tests()), "upper-bay");
  CHECK(of_fine.mean > 0.3);
  CHECK(of_fine.mean < 1.0);
  CHECK_THAT(of_fine.sd, WithinAbs(of_coarse.sd, 0.02));
}

TEST_CASE("zone scores: a logger that was stopped early gives what it has", "[exposure][score][logger]") {
  const auto instants = [](const std::string& more, const std::string& rows) {
    const Case job = case_with(R"([{"segment": "S1", "file": "a.csv", "ambient_Cel": 25, "bonnet": "shut", )" + more + "}]",
                               {{"a.csv", "minutes,temperature_Cel\n" + rows}});
    std::vector<std::string> words;
    for (const ZoneReading& reading : zone_readings(job, library_of_tests()).readings) words.push_back(reading.instant);
    return words;
  };
  CHECK(instants(R"("state": "hill")", "0,60\n1,61\n") == std::vector<std::string>{"a.csv, mean of 2 rows while driving"});
  CHECK(instants(R"("state": "city", "key_on_min": 0)", "0,25\n4,40\n8,50\n") ==
        std::vector<std::string>{"a.csv, mean of 2 rows while driving"});
  CHECK(instants(R"("state": "city", "key_off_min": 0)", "5,70\n10,74\n200,40\n") ==
        std::vector<std::string>{"a.csv, mean of 2 rows after key-off"});
  CHECK(instants(R"("state": "city", "key_off_min": 0)", "150,70\n160,74\n").empty());
}

TEST_CASE("zone scores: a reading far off is said to be doubtful and counts all the same", "[exposure][score]") {
  const ZoneScores scores = scores_with("[" + city_at_s1(60.0) + "," + city_at_s1(120.0) + "]");
  REQUIRE(scores.residuals.size() == 2);
  CHECK_FALSE(scores.residuals[0].doubtful);
  CHECK(scores.residuals[1].doubtful);
  REQUIRE(scores.warnings.size() == 1);
  CHECK_THAT(scores.warnings[0], Contains("S1") && Contains("upper-bay") && Contains("120 Cel was measured") &&
                                     Contains("60 Cel was expected, give or take 10 K"));
  CHECK(score_of(scores, "upper-bay").mean > score_of(scores_with("[" + city_at_s1(60.0) + "]"), "upper-bay").mean + 0.5);
}

TEST_CASE("zone scores: what says nothing clean about the air is left out or counts less, and said", "[exposure][score]") {
  SECTION("beside a stated hot body") {
    const Case job = case_with("[" + city_at_s1(110.0) + "]", {}, [](Json& c) {
      c["segments"][0]["stretches"][0]["hot_bodies"] =
          Json::array({{{"shape", "plate"},
                        {"size_mm", 100},
                        {"distance_mm", 90},
                        {"surface_Cel", {{"cruise", 200}, {"city", 180}, {"idle", 150}, {"hill", 250}}},
                        {"shield", "none"}}});
    });
    const ZoneScores scores = zone_scores(job, library_of_tests());
    CHECK(score_of(scores, "upper-bay").mean == 0.0);
    CHECK(scores.residuals.empty());
    REQUIRE(scores.assumptions.size() == 1);
    CHECK(scores.assumptions[0].pointer == "/measured/0");
    CHECK_THAT(scores.assumptions[0].text, Contains("hot body") && Contains("left out"));
  }
  SECTION("with own current: double spread while it flows") {
    const auto loaded = [](Json& c) { c["segments"][0]["groups"][0]["current_A"] = 2; };
    const std::string soak = R"([{"segment": "S1", "temperature_Cel": 80, "ambient_Cel": 25, "state": "soak",
                                  "minutes_since_key_off": 30, "bonnet": "shut", "instrument": "contact"}])";
    const std::string running = "[" + city_at_s1(70.0) + "]";
    const ZoneReadings with = zone_readings(case_with(running, {}, loaded), library_of_tests());
    const ZoneReadings without = zone_readings(case_with(running), library_of_tests());
    CHECK_THAT(with.readings.at(0).own_sd / without.readings.at(0).own_sd, WithinRel(2.0, 1e-12));
    CHECK_THAT(with.readings[0].zone_sd / without.readings[0].zone_sd, WithinRel(2.0, 1e-12));
    CHECK_THAT(with.assumptions.at(0).text, Contains("current") && Contains("2 times"));
    CHECK(zone_readings(case_with(soak, {}, loaded), library_of_tests()).assumptions.empty());
  }
  SECTION("parked for an unknown time") {
    const ZoneReadings read = zone_readings(
        case_with(R"([{"segment": "S1", "temperature_Cel": 40, "ambient_Cel": 25, "state": "parked", "bonnet": "shut",
                       "instrument": "contact"}])"),
        library_of_tests());
    CHECK(read.readings.empty());
    CHECK_THAT(read.assumptions.at(0).text, Contains("left out"));
  }
}

TEST_CASE("zone scores: a zone that the library does not have is refused by name", "[exposure][score][error]") {
  CHECK_THROWS_WITH(score_of(scores_with("[]"), "attic"), Contains("attic"));
}
