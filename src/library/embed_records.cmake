# Writes a source file that holds every record of materials/ as text.
# Called with -DMATERIALS=<folder> -DOUTPUT=<file.cpp>.
file(GLOB_RECURSE records RELATIVE "${MATERIALS}" "${MATERIALS}/*.json")
list(FILTER records EXCLUDE REGEX "^schema/")
list(SORT records)

set(entries "")
foreach(record IN LISTS records)
  file(READ "${MATERIALS}/${record}" text)
  # A record never holds the closing mark, so a raw literal can hold any record.
  string(FIND "${text}" ")record\"" mark)
  if(NOT mark EQUAL -1)
    message(FATAL_ERROR "${record} holds the mark that closes a raw literal")
  endif()
  string(APPEND entries "      {\"${record}\", R\"record(${text})record\"},\n")
endforeach()

file(CONFIGURE OUTPUT "${OUTPUT}" @ONLY CONTENT [=[
// Written by src/library/embed_records.cmake from materials/; do not edit.
#include "heatside/library/library.hpp"

namespace heatside::library {

std::vector<RecordText> built_in_records() {
  return {
@entries@  };
}

}  // namespace heatside::library
]=])
