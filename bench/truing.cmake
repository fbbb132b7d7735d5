# Truing advice beside a rule of thumb, on simulated wheels.
add_executable(bench_truing ${CMAKE_CURRENT_LIST_DIR}/truing.cpp
                            ${CMAKE_CURRENT_LIST_DIR}/truing_wheel.cpp
                            ${CMAKE_CURRENT_LIST_DIR}/truing_thumb.cpp)
target_link_libraries(bench_truing PRIVATE mech units base fmt::fmt)
