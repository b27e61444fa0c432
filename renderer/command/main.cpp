#include "command/run.h"

int main(int argc, char** argv) {
    return rushlight::command::run(argc, argv, nullptr);
}
