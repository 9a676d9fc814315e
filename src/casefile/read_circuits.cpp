#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "casefile/findings.hpp"
#include "casefile/remedies.hpp"

namespace heatside::casefile {

namespace {

// Own words are kept: a wiring plan needs them. But nobody knows then what a fault of this circuit leads to.
void read_function(Fields& fields, Circuit& circuit, Reading& reading) {
  circuit.function = fields.optional_text("function").value_or("");
  if (circuit.function.empty() || reading.library.consequences.count(circuit.function) == 1) return;
  const std::vector<Circuit>& earlier = reading.result.circuits;
  const auto same = [&](const Circuit& other) { return other.function == circuit.function; };
  if (std::any_of(earlier.begin(), earlier.end(), same)) return;
  const std::string nearest = nearest_word(circuit.function, library::ids_of(reading.library.consequences));
  reading.assume(fields.pointer("function"),
                 fmt::format("no consequence is known for the function \"{}\", so its faults count without a stop{}; "
                             "`heatside materials` lists the functions",
                             circuit.function, nearest.empty() ? "" : fmt::format("; nearest is \"{}\"", nearest)));
}

void read_fuse(Fields& fields, Circuit& circuit) {
  circuit.fuse_amperes = fields.optional_number("fuse_A", {0.1, 600.0, "A"});
  circuit.unfused = fields.optional_flag("unfused").value_or(false);
  if (circuit.unfused && circuit.fuse_amperes) fields.complain("unfused", "true, but the rating of a fuse stands beside it");
}

// A segment with such a circuit must be known as one, or somebody would be sent to open it.
void expect_airbag_segments(Fields& fields, const Circuit& circuit, const Reading& reading) {
  if (circuit.function != "airbag") return;
  for (const std::string& id : circuit.segments) {
    const Segment* segment = find_by_id(reading.result.segments, id);
    if (segment == nullptr || segment->airbag) continue;
    fields.complain("segments",
                    fmt::format("the circuit is of airbags; write \"airbag\": true at its segment {} as well", id));
  }
}

Circuit read_circuit(Fields fields, Ids& taken, std::size_t index, Reading& reading) {
  Circuit circuit;
  circuit.pointer = fields.pointer();
  circuit.id = read_id(fields, taken, index);
  read_function(fields, circuit, reading);
  circuit.segments = read_segment_ids(fields, reading);
  expect_airbag_segments(fields, circuit, reading);
  circuit.plug = fields.optional_text("plug").value_or("");
  circuit.cavity = fields.optional_text("cavity").value_or("");
  circuit.colour = fields.optional_text("colour").value_or("");
  circuit.size = read_optional_size(fields, reading.library).value_or("");
  circuit.splice = fields.optional_text("splice").value_or("");
  read_fuse(fields, circuit);
  circuit.screened = fields.optional_flag("screened").value_or(false);
  circuit.twisted = fields.optional_flag("twisted").value_or(false);
  circuit.note = fields.optional_text("note").value_or("");
  fields.refuse_unknown();
  return circuit;
}

}  // namespace

std::vector<std::string> read_segment_ids(Fields& fields, Reading& reading) {
  // Where a segment has no usable id, one that is not found may be that one.
  if (fields.find("segments") == nullptr || !reading.segments.complete) return {};
  return read_words(fields, "segments", "segment", library::ids_of(reading.segments.positions), reading);
}

void read_circuits(Fields& top, Reading& reading) {
  const std::vector<Fields> circuits = top.optional_objects("circuits");
  Ids taken;
  for (std::size_t i = 0; i < circuits.size(); ++i) {
    reading.result.circuits.push_back(read_circuit(circuits[i], taken, i, reading));
  }
}

}  // namespace heatside::casefile
