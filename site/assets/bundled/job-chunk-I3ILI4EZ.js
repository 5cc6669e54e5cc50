function u(r,l={},...f){let t=document.createElement(r);for(let[e,n]of Object.entries(l))n!==!1&&t.setAttribute(e,n===!0?"":n);return t.append(...f.filter(e=>e!==null&&e!==!1)),t}export{u as a};
