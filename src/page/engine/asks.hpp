#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>

#include "page/engine/memory.hpp"
#include "page/engine/request.hpp"

/// Everything that the page asks. Each gives the text of a JSON document; see `src/page/engine/README.md` for its members.

namespace heatside::page {

/// JSON object of members that are JSON texts already.
[[nodiscard]] std::string object_of(std::initializer_list<std::pair<std::string_view, std::string>> members);

// library.cpp
[[nodiscard]] std::string library_of(const Request& request, Memory& memory);

// deeds.cpp: what makes a case, or changes it
[[nodiscard]] std::string started(const Request& request, Memory& memory);
[[nodiscard]] std::string checked(const Request& request, Memory& memory);
[[nodiscard]] std::string recorded(const Request& request, Memory& memory);
[[nodiscard]] std::string agreed(const Request& request, Memory& memory);
[[nodiscard]] std::string taken_back(const Request& request, Memory& memory);

// answers.cpp
[[nodiscard]] std::string estimated(const Request& request, Memory& memory);
[[nodiscard]] std::string ordered(const Request& request, Memory& memory);
[[nodiscard]] std::string remedied(const Request& request, Memory& memory);
[[nodiscard]] std::string planned(const Request& request, Memory& memory);
[[nodiscard]] std::string reported(const Request& request, Memory& memory);

// comparison.cpp
[[nodiscard]] std::string compared(const Request& request, Memory& memory);

// drawings.cpp
[[nodiscard]] std::string mapped(const Request& request, Memory& memory);
[[nodiscard]] std::string curves_of(const Request& request, Memory& memory);

// lessons.cpp
[[nodiscard]] std::string lesson_of(const Request& request, Memory& memory);
[[nodiscard]] std::string topic_of(const Request& request, Memory& memory);

}  // namespace heatside::page
