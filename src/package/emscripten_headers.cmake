# The cross compiler must not see the host's /usr/include as a whole: it would find glibc there.
# A folder of links shows it the header-only libraries and nothing else.
set(emscripten_headers ${CMAKE_CURRENT_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${emscripten_headers})
foreach(library boost nlohmann fmt eigen3/Eigen)
  get_filename_component(name ${library} NAME)
  if(NOT EXISTS /usr/include/${library})
    message(FATAL_ERROR "the headers of ${library} are not installed")
  endif()
  file(CREATE_LINK /usr/include/${library} ${emscripten_headers}/${name} SYMBOLIC)
endforeach()

foreach(target Boost::headers Eigen3::Eigen nlohmann_json::nlohmann_json fmt::fmt-header-only)
  add_library(${target} INTERFACE IMPORTED GLOBAL)
  target_include_directories(${target} SYSTEM INTERFACE ${emscripten_headers})
endforeach()
target_compile_definitions(fmt::fmt-header-only INTERFACE FMT_HEADER_ONLY=1)
# A long double has 128 bits here and is worked out by software, a hundred times as slowly as a double.
target_compile_definitions(Boost::headers INTERFACE BOOST_MATH_PROMOTE_DOUBLE_POLICY=false)

add_compile_options(-fwasm-exceptions)
add_link_options(-fwasm-exceptions)
