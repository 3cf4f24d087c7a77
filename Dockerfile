FROM python:3.11-slim
ENV PYTHONUNBUFFERED=1 PYTHONDONTWRITEBYTECODE=1
WORKDIR /srv/studbay
COPY requirements.txt ./
RUN pip install --no-cache-dir -r requirements.txt
COPY manage.py gunicorn.conf.py ./
COPY config ./config
COPY jobs ./jobs
COPY inspections ./inspections
COPY notifications ./notifications
COPY audit ./audit
COPY pages ./pages
COPY api ./api
COPY templates ./templates
COPY static ./static
COPY examples ./examples
# As root, who owns the program's folder: the site itself may not write there.
RUN python -m config.languages
RUN useradd --system --create-home studbay && install -d -o studbay /var/lib/studbay
USER studbay
EXPOSE 8000
CMD ["gunicorn", "config.wsgi", "--bind", "0.0.0.0:8000", "--threads", "8"]
