#include "page/engine/seam.hpp"

#include <array>
#include <exception>
#include <utility>

#include "base/strict_json.hpp"
#include "base/text.hpp"
#include "heatside/base/error.hpp"
#include "page/engine/asks.hpp"

namespace heatside::page {

namespace {

using Ask = std::string (*)(const Request&, Memory&);

constexpr std::array<std::pair<std::string_view, Ask>, 16> asks{{{"library", library_of},
                                                                 {"start", started},
                                                                 {"check", checked},
                                                                 {"estimate", estimated},
                                                                 {"order", ordered},
                                                                 {"record", recorded},
                                                                 {"consent", agreed},
                                                                 {"undo", taken_back},
                                                                 {"remedies", remedied},
                                                                 {"plan", planned},
                                                                 {"compare", compared},
                                                                 {"report", reported},
                                                                 {"map", mapped},
                                                                 {"curves", curves_of},
                                                                 {"lesson", lesson_of},
                                                                 {"topic", topic_of}}};

std::string answered(std::string_view text, Memory& memory) {
  const Request request{text};
  const std::string wanted = request.text("ask");
  for (const auto& [name, ask] : asks) {
    if (name == wanted) return ask(request, memory);
  }
  std::vector<std::string> names;
  for (const auto& [name, ask] : asks) names.emplace_back(name);
  request.refuse("ask", "\"" + wanted + "\" is none of " + join(names));
}

// Whatever the words are made of, they come out as UTF-8.
std::string written(const Json& document) { return document.dump(-1, ' ', false, Json::error_handler_t::replace); }

std::string errors_of(const std::vector<Problem>& problems) {
  Json list = Json::array();
  for (const Problem& problem : problems)
    list.push_back({{"file", problem.file}, {"place", problem.pointer}, {"what", problem.message}});
  return written({{"errors", list}});
}

std::string failure_of(const std::string& words) { return written({{"failure", words}}); }

std::string answered_or_refused(std::string_view request, Memory& memory) {
  try {
    return answered(request, memory);
  } catch (const InputError& error) {
    return errors_of(error.problems());
  } catch (const DomainError& error) {
    return errors_of({{"", "", error.what()}});
  } catch (const std::exception& error) {
    return failure_of(error.what());
  }
}

}  // namespace

std::string object_of(std::initializer_list<std::pair<std::string_view, std::string>> members) {
  std::string text = "{";
  for (const auto& [key, value] : members) {
    if (text.size() > 1) text += ',';
    text += Json(key).dump() + ':' + value;
  }
  return text + '}';
}

Seam::Seam() : memory_{std::make_unique<Memory>()} {}
Seam::~Seam() = default;

// A second exception while the words of the first are written is memory that ran out.
std::string Seam::answer(std::string_view request) noexcept {
  try {
    return answered_or_refused(request, *memory_);
  } catch (...) {
    return "{\"failure\":\"memory has run out\"}";
  }
}

}  // namespace heatside::page
