#include "loopwalk/app/cli.hpp"

int main(int argc, char** argv) {
    return loopwalk::app::main_program(argc, argv);
}
