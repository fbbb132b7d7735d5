# The pitch of invented plucks beside the one they were made with.
find_package(CLI11 REQUIRED)
add_executable(bench_pluck ${CMAKE_CURRENT_LIST_DIR}/pluck.cpp)
target_link_libraries(bench_pluck PRIVATE mech units base fmt::fmt CLI11::CLI11)
