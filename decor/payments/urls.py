from django.urls import path

from decor.payments import views

urlpatterns = [
    path("money/", views.money_list, name="money_list"),
    path("money/jobs/<int:job_pk>/payment/", views.payment_new, name="payment_new"),
    path("money/jobs/<int:job_pk>/refund/", views.refund_new, name="refund_new"),
    path("money/jobs/<int:job_pk>/statement.pdf", views.statement, name="money_statement"),
    path("money/lines/<int:pk>/correct/", views.payment_correct, name="payment_correct"),
    path("money/lines/<int:pk>/receipt.pdf", views.receipt, name="money_receipt"),
]
