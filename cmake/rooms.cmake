# A room of the house is one folder of src/: one library, one namespace, one stated set of arrows.
#
#   room(mech USES trade units base LINKS pugixml)
#
# makes the library `mech` from every *.cpp of the folder, and `mech_tests` from every *_test.cpp.
# Headers are included as "mech/spoke_length.hpp". Each room sees only its own headers and those of
# the rooms it uses: build/rooms/<name>/ holds one link to the folder and nothing else, so an
# include that no arrow allows does not compile.
function(room NAME)
  cmake_parse_arguments(ROOM "" "" "USES;LINKS;TEST_LINKS" ${ARGN})
  set(here ${CMAKE_CURRENT_SOURCE_DIR})
  file(GLOB sources CONFIGURE_DEPENDS ${here}/*.cpp)
  file(GLOB tests CONFIGURE_DEPENDS ${here}/*_test.cpp)
  list(FILTER sources EXCLUDE REGEX "_test\\.cpp$|/main\\.cpp$")

  set(door ${CMAKE_BINARY_DIR}/rooms/${NAME})
  file(MAKE_DIRECTORY ${door})
  file(CREATE_LINK ${here} ${door}/${NAME} SYMBOLIC)

  if(sources)
    add_library(${NAME} STATIC ${sources})
    set(scope PUBLIC)
    # Several files a compile: template instantiation dominates, and is then done once.
    set_target_properties(${NAME} PROPERTIES UNITY_BUILD ${ROLLWRIGHT_UNITY}
                                             UNITY_BUILD_BATCH_SIZE 8)
  else()
    add_library(${NAME} INTERFACE)
    set(scope INTERFACE)
  endif()
  target_include_directories(${NAME} ${scope} ${door})
  target_link_libraries(${NAME} ${scope} ${ROOM_USES} ${ROOM_LINKS})

  if(tests AND ROLLWRIGHT_TESTS)
    add_executable(${NAME}_tests ${tests})
    target_link_libraries(${NAME}_tests PRIVATE ${NAME} ${ROOM_TEST_LINKS} GTest::gtest_main)
    target_compile_definitions(${NAME}_tests PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
    set_property(GLOBAL APPEND PROPERTY ROLLWRIGHT_TEST_PROGRAMS ${NAME}_tests)
  endif()
endfunction()
