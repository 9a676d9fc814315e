# Installs the library into a folder of its own and uses it from there as somebody else's project would:
# once through find_package, once through pkg-config.
# Called with -DBUILD_DIR, -DSOURCE_DIR (this folder), -DWORK_DIR, -DCOMPILER and -DFLAGS.
cmake_minimum_required(VERSION 3.25)

set(prefix ${WORK_DIR}/prefix)
file(REMOVE_RECURSE ${WORK_DIR})
file(MAKE_DIRECTORY ${WORK_DIR})

# Runs a command that must go well; its standard output ends up in `output`.
function(run)
  execute_process(COMMAND ${ARGV} WORKING_DIRECTORY ${WORK_DIR} RESULT_VARIABLE code OUTPUT_VARIABLE printed ERROR_VARIABLE errors)
  if(NOT code EQUAL 0)
    list(JOIN ARGV " " command)
    message(FATAL_ERROR "${command}\nended with ${code}\n${printed}\n${errors}")
  endif()
  set(output "${printed}" PARENT_SCOPE)
endfunction()

# ISO 6722-1, from memory: 3000 h at class temperature; the record of the class of 125 degC is built into the library.
function(expect_answer program)
  run(${program})
  set(expected "xlpo-125: 3000 h at 125 Cel\n")
  if(NOT output STREQUAL expected)
    message(FATAL_ERROR "${program} printed \"${output}\" instead of \"${expected}\"")
  endif()
endfunction()

run(${CMAKE_COMMAND} --install ${BUILD_DIR} --prefix ${prefix})

# What people expect to find where.
foreach(file include/heatside/estimate.hpp include/heatside/base/units.hpp share/heatside/materials/model.json
    share/heatside/materials/schema/case.schema.json)
  if(NOT EXISTS ${prefix}/${file})
    message(FATAL_ERROR "${file} is not installed")
  endif()
endforeach()
if(EXISTS ${prefix}/bin/heatside)
  run(${prefix}/bin/heatside --version)
  if(NOT output MATCHES "^heatside [0-9]+\\.[0-9]+\\.[0-9]+\n$")
    message(FATAL_ERROR "the installed program calls itself \"${output}\"")
  endif()
endif()

# The way of CMake.
run(${CMAKE_COMMAND} -S ${SOURCE_DIR} -B ${WORK_DIR}/consumer -DCMAKE_PREFIX_PATH=${prefix} -DCMAKE_CXX_COMPILER=${COMPILER}
  "-DCMAKE_CXX_FLAGS=${FLAGS}")
run(${CMAKE_COMMAND} --build ${WORK_DIR}/consumer)
expect_answer(${WORK_DIR}/consumer/consumer)

# The way of pkg-config, where it is installed.
find_program(pkg_config NAMES pkg-config pkgconf)
if(NOT pkg_config)
  message(STATUS "no pkg-config here: that way was not tried")
  return()
endif()
file(GLOB_RECURSE pc_files ${prefix}/*/heatside.pc)
list(LENGTH pc_files count)
if(NOT count EQUAL 1)
  message(FATAL_ERROR "${count} files heatside.pc are installed instead of one")
endif()
cmake_path(GET pc_files PARENT_PATH pc_folder)
set(ENV{PKG_CONFIG_PATH} ${pc_folder})
run(${pkg_config} --modversion heatside)
run(${pkg_config} --cflags --libs heatside)
string(STRIP "${output}" package_flags)
string(FIND "${package_flags}" "${prefix}" place)
if(place EQUAL -1)
  message(FATAL_ERROR "heatside.pc does not point into the folder it was installed to: ${package_flags}")
endif()
separate_arguments(arguments UNIX_COMMAND "${FLAGS} ${SOURCE_DIR}/consumer.cpp -o ${WORK_DIR}/consumer_pc ${package_flags}")
run(${COMPILER} ${arguments})
expect_answer(${WORK_DIR}/consumer_pc)
