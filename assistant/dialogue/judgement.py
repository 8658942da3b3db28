def judge(s): return ()
