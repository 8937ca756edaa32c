import re,glob,pathlib
P={}
cur=None
for l in open('prelude.txt'):
    if l.startswith('@@'): cur=l[2:].strip(); P[cur]=''
    else: P[cur]+=l
for f in sorted(glob.glob('b*.txt')):
    for blk in re.split(r'^@@ ?',open(f).read(),flags=re.M)[1:]:
        head,rest=blk.split('\n',1)
        name,*keys=head.split()
        d,m=rest.split('%%\n')
        t='include "stock.detail"\n\n'+'\n'.join(P[k] for k in keys)+'\n'+d
        pathlib.Path(f'../{name}.detail').write_text(t)
        pathlib.Path(f'../{name}.mistakes').write_text(m)
