find_package(CLI11 REQUIRED)
add_executable(bench_journal ${CMAKE_CURRENT_LIST_DIR}/journal.cpp
               ${CMAKE_CURRENT_LIST_DIR}/invented_years.cpp)
target_link_libraries(bench_journal PRIVATE book fmt::fmt CLI11::CLI11)
