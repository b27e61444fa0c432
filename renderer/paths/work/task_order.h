// The order that the task library promises, told to the thread sanitizer, which does not see into that library: what
// was done before work was shared out is seen by every piece, and what a piece did is seen when all are done.
// What calls the library is built without the sanitizer (renderer/CMakeLists.txt), what it calls in turn is built with
// it.
#pragma once

#ifdef RUSHLIGHT_WATCHES_THREADS
extern "C" void __tsan_acquire(void* place);
extern "C" void __tsan_release(void* place);
#endif

namespace rushlight {

class TaskOrder {
public:
#ifdef RUSHLIGHT_WATCHES_THREADS
    void shared_out() {
        __tsan_release(&out_);
    }
    void begun() {
        __tsan_acquire(&out_);
    }
    void ended() {
        __tsan_release(&back_);
    }
    void all_done() {
        __tsan_acquire(&back_);
    }

private:
    char out_ = 0, back_ = 0;
#else
    void shared_out() {}
    void begun() {}
    void ended() {}
    void all_done() {}
#endif
};

}  // namespace rushlight
